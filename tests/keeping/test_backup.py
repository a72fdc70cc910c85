"""A backup is whole and of one moment; daily copies turn over; nothing half lies about."""

import json
import sqlite3
import threading
import time
import zipfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from flask import Flask

from shedbook.keeping.backup import LogDamaged, keep_daily, write_backup
from shedbook.keeping.restore import unpacked
from shedbook.places import LOG_FILE
from tests.keeping.sheds import Season, lines_of, look
from tests.sync.process import ShedProcess, SocketPhone

BATCH = 10


def test_backup_holds_the_log_and_a_manifest_and_no_key(season: Season, tmp_path: Path) -> None:
    data = season.data
    (data / "https").mkdir()
    (data / "https" / "authority.key").write_text("secret", encoding="utf-8")
    manifest = write_backup(data / LOG_FILE, tmp_path / "shed.zip")
    with zipfile.ZipFile(tmp_path / "shed.zip") as archive:
        assert sorted(archive.namelist()) == ["manifest.json", LOG_FILE]
        told = json.loads(archive.read("manifest.json"))
        assert archive.testzip() is None
    assert told["format"] == 1
    assert told["gardens"] == [{"id": season.garden, "name": "Home", "entries": 14}]
    assert set(told) == {"app", "files", "format", "gardens", "made_at", "schema"}
    assert len(manifest.files[LOG_FILE].sha256) == 64
    assert (tmp_path / "shed.zip").stat().st_mode & 0o077 == 0


def test_backup_stopped_half_way_leaves_nothing(season: Season, tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    for at in (0.1, 0.6, 1.0):

        def stop(done: int, total: int, at: float = at) -> None:
            if done >= at * total:
                raise KeyboardInterrupt

        with pytest.raises(KeyboardInterrupt):
            write_backup(season.data / LOG_FILE, folder / "shed.zip", stop)
        assert list(folder.iterdir()) == []


def test_daily_copies_beyond_the_last_days_go_and_other_files_stay(
    season: Season, tmp_path: Path
) -> None:
    folder = tmp_path / "copies"
    folder.mkdir()
    (folder / "shedbook-before-the-move.zip").touch()
    for day in (1, 2, 3, 4, 4):
        keep_daily(season.data / LOG_FILE, folder, 3, date(2026, 6, day))
    assert sorted(file.name for file in folder.iterdir()) == [
        "shedbook-2026-06-02.zip",
        "shedbook-2026-06-03.zip",
        "shedbook-2026-06-04.zip",
        "shedbook-before-the-move.zip",
    ]


def test_a_damaged_log_turns_no_good_copy_out(season: Season, tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    keep_daily(season.data / LOG_FILE, folder, 1, date(2026, 6, 1))
    broken = tmp_path / "broken.sqlite3"
    with zipfile.ZipFile(folder / "shedbook-2026-06-01.zip") as archive:
        whole = archive.read(LOG_FILE)
    broken.write_bytes(whole[:4096] + b"\xa5" * 8192 + whole[12288:])
    with pytest.raises(LogDamaged, match="Keep your older copies"):
        keep_daily(broken, folder, 1, date(2026, 6, 2))
    assert [file.name for file in folder.iterdir()] == ["shedbook-2026-06-01.zip"]


def test_a_file_that_is_no_log_is_said_so(tmp_path: Path) -> None:
    other = tmp_path / "other.sqlite3"
    with sqlite3.connect(other) as store:
        store.execute("CREATE TABLE things (id)")
    store.close()
    with pytest.raises(LogDamaged, match="no log of Shedbook"):
        write_backup(other, tmp_path / "shed.zip")


def test_backups_while_a_phone_pushes_are_each_whole_and_of_one_moment(
    shed: ShedProcess, tmp_path: Path
) -> None:
    acknowledged: list[str] = []
    is_over = threading.Event()
    phone = shed.pair("helper", "Ana")
    pusher = threading.Thread(target=_push, args=(phone, acknowledged, is_over))
    pusher.start()
    try:
        copies = []
        for place in range(4):
            while len(acknowledged) < (place + 1) * 3 * BATCH:
                time.sleep(0.005)
            held = list(acknowledged)
            copy = tmp_path / f"{place}.zip"
            write_backup(shed.data / LOG_FILE, copy, lambda _done, _total: time.sleep(0.01))
            copies.append((copy, held))
    finally:
        is_over.set()
        pusher.join(60)
    assert not pusher.is_alive()
    for copy, held in copies:
        folder = copy.with_suffix("")
        with unpacked(copy, folder):
            pass
        kept = [json.loads(line) for line in lines_of(folder, shed.garden)]
        assert [one["seq"] for one in kept] == list(range(1, len(kept) + 1))
        assert {one["id"] for one in kept} >= set(held)
        assert look(folder, shed.garden).differences == []


def _push(phone: SocketPhone, acknowledged: list[str], is_over: threading.Event) -> None:
    while not is_over.is_set():
        batch = [phone.pen.entry() for _ in range(BATCH)]
        answers = phone.sync(batch, cursor=10**9)["answers"]
        acknowledged.extend(one["id"] for one in answers if one["result"] == "accepted")


@pytest.fixture
def shed(tmp_path: Path) -> Iterator[ShedProcess]:
    made = ShedProcess(tmp_path)
    try:
        made.start()
        yield made
    finally:
        made.close()


def test_a_backup_needs_no_running_shed(app: Flask, data: Path, tmp_path: Path) -> None:
    assert write_backup(data / LOG_FILE, tmp_path / "new" / "shed.zip").gardens == []
