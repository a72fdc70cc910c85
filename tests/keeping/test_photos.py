"""Photos stay with their log: in a backup, an export, an import, and under verify's eye."""

import json
from pathlib import Path
from typing import Any

import pytest

from shedbook.keeping.backup import write_backup
from shedbook.keeping.export_photos import LONGEST_NAME, plain_name, write_photos
from shedbook.keeping.import_log import (
    ImportRefused,
    images_of_export,
    import_log,
    read_export,
)
from shedbook.keeping.import_photos import FoundImages, PhotosUnfit, find_images
from shedbook.keeping.restore import begin_anew, unpacked
from shedbook.keeping.staging import FolderInUse
from shedbook.places import LOG_FILE
from shedbook.records.ledgers import read_ledger
from shedbook.records.models import db
from shedbook.records.photos import GARDEN_PHOTO_BYTES
from shedbook.serving.app import open_data
from tests.api.builders import HEADERS, Phone
from tests.keeping.sheds import cells_of, change, closed, lines_of, look, opened
from tests.pictures import a_jpeg, a_webp, details_of, hash_of

IMAGES = "SELECT sha256, image FROM photo_images ORDER BY sha256"
LISTED = "SELECT garden_id, sha256, type, bytes, width_px, height_px FROM photos ORDER BY sha256"


def bring(phone: Phone, image: bytes) -> None:
    kind = details_of(image)["type"]
    url = f"/api/gardens/{phone.garden}/photos/{hash_of(image)}"
    response = phone.client.put(url, data=image, headers=HEADERS | {"Content-Type": kind})
    assert response.status_code == 201, response.get_data(as_text=True)


def take(phone: Phone, image: bytes, **subjects: str) -> dict[str, Any]:
    """A photo with its image; the entry."""
    bring(phone, image)
    entry = phone.entry("photo", details_of(image), subjects)
    assert phone.push_one(entry)["result"] == "accepted"
    return entry


@pytest.fixture
def bed(lead: Phone) -> str:
    """A bed, and a garden with three photos: of the bed, of nothing, and one told again."""
    bed = lead.bed(name="Bed 3 / by the wall")
    lead.sync([bed])
    take(lead, a_jpeg(1), bed=bed["id"])
    take(lead, a_webp(2))
    bring(lead, a_jpeg(3))
    wrong = lead.entry("photo", details_of(a_jpeg(4)))
    told = {"entry": wrong["id"], "kind": "photo", "restated": details_of(a_jpeg(3))}
    bring(lead, a_jpeg(4))
    lead.sync([wrong, lead.entry("correct", told)])
    bed_id: str = bed["id"]
    return bed_id


def exported(data: Path, garden: str, folder: Path) -> list[Path]:
    names = {row[0]: row[1] for row in cells_of(data, "SELECT subject_id, name FROM homes")}
    with opened(data):
        write_photos(db.session(), garden, read_ledger(garden), names, folder)
    return sorted(folder.iterdir())


def found_in(folder: Path, log: Path, limit_bytes: int = GARDEN_PHOTO_BYTES) -> FoundImages:
    return find_images(folder, images_of_export(read_export(log)), limit_bytes)


def write_log(data: Path, garden: str, file: Path) -> Path:
    file.write_text("".join(f"{line}\n" for line in lines_of(data, garden)), encoding="utf-8")
    return file


def test_a_backup_brings_every_image_back(
    lead: Phone, bed: str, data: Path, tmp_path: Path
) -> None:
    closed(lead.client.application)
    write_backup(data / LOG_FILE, tmp_path / "shed.zip")
    with unpacked(tmp_path / "shed.zip", tmp_path / "again") as restored, opened(restored.folder):
        begin_anew()
    assert len(cells_of(data, IMAGES)) == 4
    for question in (IMAGES, LISTED):
        assert cells_of(tmp_path / "again", question) == cells_of(data, question)
    found = look(tmp_path / "again", lead.garden)
    assert (found.differences, found.remarks, found.images) == ([], [], 4)


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("UPDATE photo_images SET image = x'ffd8'", "its bytes and its SHA-256 differ"),
        ("DELETE FROM photo_images", "is listed, but its bytes are gone"),
        ("DELETE FROM photos WHERE width_px = 24", "is stored, but not listed"),
        ("UPDATE photos SET width_px = 25", "24 × 16 pixels in"),
        ("UPDATE photos SET bytes = 1", "pixels in 1 bytes, but is"),
        ("UPDATE photos SET type = 'image/gif'", "is listed as image/gif of"),
    ],
)
def test_a_change_of_an_image_behind_the_logs_back_is_told(
    lead: Phone, bed: str, data: Path, statement: str, said: str
) -> None:
    change(data, statement)
    found = look(data, lead.garden)
    assert len(found.differences) == 4
    assert all(said in one for one in found.differences), found.differences


def test_an_image_that_is_still_to_come_or_that_no_entry_names_is_remarked(
    lead: Phone, data: Path
) -> None:
    awaited = lead.entry("photo", details_of(a_jpeg(5)))
    taken_back = lead.entry("photo", details_of(a_jpeg(6)))
    lead.sync([awaited, taken_back, lead.entry("void", {"entry": taken_back["id"]})])
    bring(lead, a_jpeg(7))
    found = look(data, lead.garden)
    assert found.differences == []
    assert found.remarks == [
        f"The image of the photo {awaited['id']} of 2026-06-01 has not arrived.",
        f"The image {hash_of(a_jpeg(7))} is named by no entry.",
    ]


def test_an_export_names_each_image_by_day_place_and_hash(
    lead: Phone, bed: str, data: Path, tmp_path: Path
) -> None:
    files = exported(data, lead.garden, tmp_path / "photos")
    by_image = {file.read_bytes(): file.name for file in files}
    assert by_image == {
        a_jpeg(1): f"2026-06-01-Bed-3-by-the-wall-{hash_of(a_jpeg(1))[:8]}.jpg",
        a_webp(2): f"2026-06-01-{hash_of(a_webp(2))[:8]}.webp",
        a_jpeg(3): f"2026-06-01-{hash_of(a_jpeg(3))[:8]}.jpg",
        # What it was before it was told again.
        a_jpeg(4): f"no-entry-{hash_of(a_jpeg(4))[:8]}.jpg",
    }
    with pytest.raises(FolderInUse):
        exported(data, lead.garden, tmp_path / "photos")


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("../../etc/passwd", "etc-passwd"),
        ('CON<>:"|?*.', "CON"),
        ("Größe 2 ½", "Größe-2-1-2"),
        ("\u202eabc\x00\n", "abc"),
        ("…", ""),
        ("辣椒 東", "辣椒-東"),
        ("x" * 200, "x" * LONGEST_NAME),
    ],
)
def test_a_name_becomes_plain(name: str, plain: str) -> None:
    assert plain_name(name) == plain


def test_an_import_takes_the_images_in_whatever_their_files_are_called(
    lead: Phone, bed: str, data: Path, tmp_path: Path
) -> None:
    photos, again = tmp_path / "photos", tmp_path / "again"
    for count, file in enumerate(exported(data, lead.garden, photos)):
        file.rename(photos / f"{count}.txt")
    (photos / "copy.jpg").write_bytes(a_jpeg(1))
    (photos / "Thumbs.db").write_bytes(b"not one of ours")
    log = write_log(data, lead.garden, tmp_path / "log.jsonl")
    found = found_in(photos, log)
    assert (len(found.files), found.missing) == (4, [])
    assert [file.name for file in found.others] == ["Thumbs.db"]
    open_data(again)
    told: list[tuple[int, int]] = []
    with opened(again):
        import_log(
            read_export(log),
            "Imported",
            "UTC",
            images=found,
            show=lambda done, total: told.append((done, total)),
        )
    entries = len(lines_of(data, lead.garden))
    assert told[-1] == (entries + 4, entries + 4)
    assert told == sorted(told)
    for question in (IMAGES, LISTED):
        assert cells_of(again, question) == cells_of(data, question)
    assert look(again, lead.garden).differences == []
    assert look(again, lead.garden).remarks == []


def test_an_import_without_some_images_says_which_are_missing(
    lead: Phone, bed: str, data: Path, tmp_path: Path
) -> None:
    exported(data, lead.garden, tmp_path / "photos")
    for file in (tmp_path / "photos").glob("*.webp"):
        file.unlink()
    log = write_log(data, lead.garden, tmp_path / "log.jsonl")
    assert found_in(tmp_path / "photos", log).missing == [hash_of(a_webp(2))]


def test_a_file_that_was_spoiled_is_no_image_of_the_log(
    lead: Phone, bed: str, data: Path, tmp_path: Path
) -> None:
    (file,) = [one for one in exported(data, lead.garden, tmp_path / "photos") if "Bed" in one.name]
    file.write_bytes(a_jpeg(1)[:-30] + a_jpeg(1)[-29:])
    found = found_in(tmp_path / "photos", write_log(data, lead.garden, tmp_path / "log.jsonl"))
    assert (found.missing, found.others) == ([hash_of(a_jpeg(1))], [file])


def test_an_image_that_the_log_names_but_that_is_not_plain_stops_the_import(
    tmp_path: Path,
) -> None:
    hidden = a_jpeg(1) + b"more"
    (tmp_path / "photo.jpg").write_bytes(hidden)
    with pytest.raises(PhotosUnfit, match=r"photo\.jpg: Bytes follow its end"):
        find_images(tmp_path, [hash_of(hidden)], GARDEN_PHOTO_BYTES)


def test_more_images_than_a_garden_may_have_stop_the_import(
    lead: Phone, bed: str, data: Path, tmp_path: Path
) -> None:
    exported(data, lead.garden, tmp_path / "photos")
    log = write_log(data, lead.garden, tmp_path / "log.jsonl")
    with pytest.raises(PhotosUnfit, match="this shed takes 0 MB a garden"):
        found_in(tmp_path / "photos", log, limit_bytes=len(a_jpeg(1)))


def test_a_file_that_changes_meanwhile_leaves_nothing_of_the_import(
    lead: Phone, bed: str, data: Path, tmp_path: Path
) -> None:
    files = exported(data, lead.garden, tmp_path / "photos")
    log = write_log(data, lead.garden, tmp_path / "log.jsonl")
    found = found_in(tmp_path / "photos", log)
    files[-1].write_bytes(a_jpeg(9))
    open_data(tmp_path / "again")
    with opened(tmp_path / "again"), pytest.raises(ImportRefused, match="changed meanwhile"):
        import_log(read_export(log), "Imported", "UTC", images=found)
    for table in ("gardens", "entries", "photos", "photo_images"):
        assert cells_of(tmp_path / "again", f"SELECT count(*) FROM {table}") == [(0,)]


def test_what_was_set_aside_keeps_its_image_too(lead: Phone, data: Path, tmp_path: Path) -> None:
    bring(lead, a_jpeg(8))
    odd = lead.entry("photo", details_of(a_jpeg(8), shows="it"))
    assert lead.push_one(odd)["result"] == "set_aside"
    log = write_log(data, lead.garden, tmp_path / "log.jsonl")
    assert json.loads(log.read_text(encoding="utf-8"))["set_aside"]["id"] == odd["id"]
    assert images_of_export(read_export(log)) == [hash_of(a_jpeg(8))]
    assert look(data, lead.garden).remarks == []
