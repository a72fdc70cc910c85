"""Photos from the terminal: out with `export --photos`, in with `import --photos`, verified."""

from pathlib import Path

import pytest

from shedbook.cli.opening import choose_garden, open_shed
from shedbook.records.engine import now_ms, writing
from shedbook.records.images import check_image
from shedbook.records.photos import GARDEN_PHOTO_BYTES, add_image
from tests.cli.builders import a_bed, write
from tests.cli.conftest import Run
from tests.pictures import a_jpeg, details_of, hash_of


@pytest.fixture
def garden(run: Run) -> None:
    """A garden with two photos of a bed, of which one image has arrived."""
    run("garden", "new", "Test garden", "--zone", "UTC")
    bed = a_bed("Long bed")
    for seed in (1, 2):
        write("photo", {"bed": bed}, details_of(a_jpeg(seed)))
    with open_shed(None).app_context():
        garden = choose_garden().id
        with writing() as session:
            image = check_image(a_jpeg(1))
            add_image(session, garden, image, None, now_ms(), GARDEN_PHOTO_BYTES)


def test_photos_leave_with_an_export_and_come_back_with_an_import(
    run: Run, garden: None, tmp_path: Path
) -> None:
    log, photos, again = (str(tmp_path / name) for name in ("log.jsonl", "photos", "again"))
    done = run("export", "-o", log, "--photos", photos)
    assert done.exit_code == 0, done.output
    assert "1 photos of Test garden." in done.stderr
    (file,) = Path(photos).iterdir()
    assert file.name.endswith(f"-Long-bed-{hash_of(a_jpeg(1))[:8]}.jpg")
    assert file.read_bytes() == a_jpeg(1)
    (Path(photos) / "notes.txt").write_text("not a photo", encoding="utf-8")
    taken = run("import", log, "--photos", photos, "--data", again)
    assert taken.exit_code == 0, taken.output
    assert "Took in 1 photos." in taken.stdout
    assert "1 photos of the log are not in the folder." in taken.stdout
    assert "Left notes.txt: the log names no such image." in taken.stdout
    verified = run("verify", "--data", again)
    assert verified.exit_code == 0, verified.output
    assert "has not arrived." in verified.stdout
    assert "3 entries and 1 photos read again" in verified.stdout


def test_photos_go_beside_tables_too(run: Run, garden: None, tmp_path: Path) -> None:
    done = run("export", "--csv", str(tmp_path / "csv"), "--photos", str(tmp_path / "photos"))
    assert done.exit_code == 0, done.output
    table = (tmp_path / "csv" / "photo.csv").read_text(encoding="utf-8-sig")
    assert hash_of(a_jpeg(1)) in table
    assert len(list((tmp_path / "photos").iterdir())) == 1


def test_a_folder_in_use_stops_the_export_before_anything_is_written(
    run: Run, garden: None, tmp_path: Path
) -> None:
    (tmp_path / "mine.jpg").touch()
    log = tmp_path / "log.jsonl"
    refused = run("export", "-o", str(log), "--photos", str(tmp_path))
    assert refused.exit_code == 1
    assert "is not empty" in refused.output
    assert not log.exists()


def test_photos_go_with_a_log_alone(run: Run, garden: None, tmp_path: Path) -> None:
    table = tmp_path / "table.csv"
    table.touch()
    refused = run("import", "--csv", str(table), "--photos", str(tmp_path))
    assert refused.exit_code == 2
    assert "--photos goes with FILE." in refused.output


def test_the_limit_is_read_from_the_environment_and_holds_for_an_import(
    run: Run, garden: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log, photos, again = (str(tmp_path / name) for name in ("log.jsonl", "photos", "again"))
    run("export", "-o", log, "--photos", photos)
    monkeypatch.setenv("SHEDBOOK_PHOTO_MB", "0")
    refused = run("import", log, "--photos", photos, "--data", again)
    assert refused.exit_code == 1
    assert "this shed takes 0 MB a garden" in refused.output
    assert "Imported garden" not in run("garden", "list", "--data", again).stdout
    monkeypatch.setenv("SHEDBOOK_PHOTO_MB", "2 GB")
    refused = run("garden", "list")
    assert refused.exit_code == 1
    assert "SHEDBOOK_PHOTO_MB should be a whole number of MB, such as 2000." in refused.output


def test_a_photo_is_no_kind_that_is_written_at_the_terminal(run: Run, garden: None) -> None:
    refused = run("record", "photo", f"sha256={hash_of(a_jpeg(1))}", "type=image/jpeg")
    assert refused.exit_code == 2
    assert "'photo' is not one of" in refused.output
