"""A restore gives the shed back whole, or leaves nothing; phones are told to pull again."""

import hashlib
import json
import shutil
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask import Flask

from shedbook.keeping.archive import ArchiveUnfit
from shedbook.keeping.backup import write_backup
from shedbook.keeping.restore import begin_anew, unpacked
from shedbook.keeping.staging import FolderInUse
from shedbook.places import LOG_FILE
from shedbook.records.people import InvitationInvalid, invite, spend_invitation
from tests.api.builders import NOW_MS, Phone, a_garden
from tests.keeping.sheds import Season, a_season, cells_of, lines_of, look, opened


def restore(archive: Path, folder: Path) -> None:
    """As the command does it."""
    with unpacked(archive, folder) as restored, opened(restored.folder):
        begin_anew()


def test_restore_gives_the_same_log_back(archive: Path, season: Season, tmp_path: Path) -> None:
    folder = tmp_path / "moved"
    restore(archive, folder)
    assert [file.name for file in folder.iterdir()] == [LOG_FILE]
    assert lines_of(folder, season.garden) == lines_of(season.data, season.garden)
    assert look(folder, season.garden).differences == []


def test_restore_starts_a_new_epoch_for_every_garden(
    app: Flask, lead: Phone, data: Path, tmp_path: Path
) -> None:
    a_garden(app, "Second")
    write_backup(data / LOG_FILE, tmp_path / "shed.zip")
    restore(tmp_path / "shed.zip", tmp_path / "moved")
    before = dict(cells_of(data, "SELECT id, epoch FROM gardens"))
    after = dict(cells_of(tmp_path / "moved", "SELECT id, epoch FROM gardens"))
    assert before.keys() == after.keys()
    assert not {*before.values()} & {*after.values()}


def test_a_phone_sends_again_what_the_backup_did_not_have(
    lead: Phone, data: Path, tmp_path: Path
) -> None:
    a_season(lead)
    write_backup(data / LOG_FILE, tmp_path / "shed.zip")
    later = lead.entry("rain", {"depth_mm": 4})
    known = lead.sync([later])
    restore(tmp_path / "shed.zip", tmp_path / "moved")
    with opened(tmp_path / "moved") as moved:
        client = moved.test_client()
        held = lead.client.get_cookie("shedbook_device")
        assert held is not None
        client.set_cookie("shedbook_device", held.value)
        phone = Phone(client, lead.garden, lead.device, lead.person, lead.notebook, lead.number)
        told = phone.sync([], cursor=known["cursor"], epoch=known["epoch"])
        assert told["epoch"] != known["epoch"]
        assert len(told["entries"]) == known["head"] - 1
        assert told["notebook"]["unbroken"] == later["number"] - 1
        assert phone.push_one(later)["result"] == "accepted"


def test_codes_of_the_time_of_the_backup_are_void(
    app: Flask, garden: str, data: Path, tmp_path: Path
) -> None:
    with app.app_context():
        code = invite(garden, "helper", "Ana", 600, at_ms=NOW_MS).code
    write_backup(data / LOG_FILE, tmp_path / "shed.zip")
    restore(tmp_path / "shed.zip", tmp_path / "moved")
    with opened(tmp_path / "moved"), pytest.raises(InvitationInvalid):
        spend_invitation(code, "Phone", at_ms=NOW_MS)


def test_restore_into_a_folder_in_use_changes_nothing(archive: Path, season: Season) -> None:
    data = season.data
    before = (data / LOG_FILE).read_bytes()
    with pytest.raises(FolderInUse, match="is not empty"):
        restore(archive, data)
    assert (data / LOG_FILE).read_bytes() == before
    assert not list(data.glob(".shedbook*"))


def test_restore_into_an_empty_folder_with_what_a_killed_run_left(
    archive: Path, written: Season, tmp_path: Path
) -> None:
    folder = tmp_path / "moved"
    (folder / ".shedbook-partial").mkdir(parents=True)
    (folder / ".shedbook-partial" / LOG_FILE).write_bytes(b"half")
    restore(archive, folder)
    assert [file.name for file in folder.iterdir()] == [LOG_FILE]
    assert look(folder, written.garden).differences == []


def test_restore_that_is_stopped_leaves_no_folder(archive: Path, tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt), unpacked(archive, tmp_path / "moved"):
        raise KeyboardInterrupt
    assert not (tmp_path / "moved").exists()


def packed_again(archive: Path, target: Path, change: Callable[[dict[str, bytes]], Any]) -> Path:
    """An archive with other contents, packed as a whole zip file."""
    with zipfile.ZipFile(archive) as source:
        members = {name: source.read(name) for name in source.namelist()}
    change(members)
    with zipfile.ZipFile(target, "w") as packed:
        for name, content in members.items():
            packed.writestr(name, content)
    return target


def with_manifest(**changed: Any) -> Callable[[dict[str, bytes]], Any]:
    def change(members: dict[str, bytes]) -> None:
        told = json.loads(members["manifest.json"]) | changed
        members["manifest.json"] = json.dumps(told).encode()

    return change


def one_bit(members: dict[str, bytes]) -> None:
    content = bytearray(members[LOG_FILE])
    content[5000] ^= 1
    members[LOG_FILE] = bytes(content)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (one_bit, "not what its manifest says"),
        (lambda members: members.update({LOG_FILE: members[LOG_FILE] + b"\0"}), "not what its"),
        (lambda members: members.pop("manifest.json"), "no manifest"),
        (lambda members: members.pop(LOG_FILE), "does not hold the files"),
        (lambda members: members.update({"../out.txt": b"x"}), "does not hold the files"),
        (lambda members: members.update({"manifest.json": b"[]"}), "can't be read"),
        (with_manifest(format=2, app="9.0"), r"newer Shedbook \(9.0\)"),
        (with_manifest(files={}), "does not hold the files"),
    ],
    ids=["bit", "longer", "no manifest", "no log", "other file", "list", "newer", "no files"],
)
def test_an_archive_that_is_not_what_it_says_leaves_nothing(
    archive: Path, tmp_path: Path, change: Callable[[dict[str, bytes]], Any], said: str
) -> None:
    other = packed_again(archive, tmp_path / "other.zip", change)
    with pytest.raises(ArchiveUnfit, match=said):
        restore(other, tmp_path / "moved")
    assert not (tmp_path / "moved").exists()


@pytest.mark.parametrize("cut", ["end", "middle", "all"])
def test_a_file_that_was_cut_or_overwritten_leaves_nothing(
    archive: Path, tmp_path: Path, cut: str
) -> None:
    whole = archive.read_bytes()
    middle = len(whole) // 2
    parts = {"end": whole[:-40], "middle": whole[:middle] + b"\xa5" * 64 + whole[middle + 64 :]}
    other = tmp_path / "other.zip"
    other.write_bytes(parts.get(cut, b"no zip"))
    with pytest.raises(ArchiveUnfit):
        restore(other, tmp_path / "moved")
    assert not (tmp_path / "moved").exists()


def test_a_sound_zip_around_a_damaged_log_is_found(archive: Path, tmp_path: Path) -> None:
    broken = tmp_path / "broken"
    broken.mkdir()
    with zipfile.ZipFile(archive) as source:
        source.extract(LOG_FILE, broken)
    file = broken / LOG_FILE
    content = file.read_bytes()
    file.write_bytes(content[:4096] + b"\xa5" * 8192 + content[12288:])
    told = {
        LOG_FILE: {"sha256": hashlib.sha256(file.read_bytes()).hexdigest(), "bytes": len(content)}
    }
    other = packed_again(
        archive,
        tmp_path / "other.zip",
        lambda members: (
            members.update({LOG_FILE: file.read_bytes()}),
            with_manifest(files=told)(members),
        ),
    )
    shutil.rmtree(broken)
    with pytest.raises(ArchiveUnfit, match="is damaged"):
        restore(other, tmp_path / "moved")
    assert not (tmp_path / "moved").exists()
