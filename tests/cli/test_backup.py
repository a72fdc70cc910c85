"""`shedbook backup`, `restore` and `verify`: what they say, and what they leave."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from shedbook.places import LOG_FILE
from tests.cli.builders import a_bed
from tests.cli.conftest import Run
from tests.keeping.test_verify import spoil_page_of_entries
from tests.sync.process import ROOT

RUN = "from shedbook.cli.main import main; main(prog_name='shedbook')"
# A backup that takes its time over each page, so that it can be stopped within.
SLOWLY = """
import shedbook.keeping.backup as backup, time
copied = backup.copy_log
def slow(log, copy, show):
    print("copying", flush=True)
    copied(log, copy, lambda done, total: time.sleep(60))
backup.copy_log = slow
"""


@pytest.fixture
def garden(run: Run) -> None:
    """A garden with a few entries."""
    run("garden", "new", "Test garden", "--zone", "UTC")
    a_bed("Long bed")
    for depth in (3, 7):
        run("record", "rain", f"depth_mm={depth}", "note=Dew until nine.")


def test_backup_then_restore_gives_the_same_export(run: Run, garden: None, tmp_path: Path) -> None:
    done = run("backup", str(tmp_path / "shed.zip"))
    assert done.exit_code == 0, done.output
    moved = str(tmp_path / "moved")
    restored = run("restore", str(tmp_path / "shed.zip"), "--data", moved)
    assert restored.exit_code == 0, restored.output
    assert "Restored Test garden into" in restored.stdout
    assert "Phones pull the log again" in restored.stdout
    assert run("export").stdout == run("export", "--data", moved).stdout
    verified = run("verify", "--data", moved)
    assert verified.exit_code == 0, verified.output
    assert "3 entries read again: everything is as it was written." in verified.stdout


def test_backup_over_a_file_that_is_there_is_refused(
    run: Run, garden: None, tmp_path: Path
) -> None:
    (tmp_path / "shed.zip").write_text("mine", encoding="utf-8")
    refused = run("backup", str(tmp_path / "shed.zip"))
    assert refused.exit_code == 2
    assert "exists already" in refused.output
    assert (tmp_path / "shed.zip").read_text(encoding="utf-8") == "mine"


def test_daily_copies_are_named_by_the_day(run: Run, garden: None, tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    folder.mkdir()
    (folder / "shedbook-2001-01-01.zip").touch()
    done = run("backup", "--keep-daily", str(folder), "--days", "1")
    assert done.exit_code == 0, done.output
    assert "Removed " in done.stdout
    (copy,) = folder.iterdir()
    assert copy.name.startswith("shedbook-20")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "Give either FILE or --keep-daily FOLDER."),
        (["a.zip", "--keep-daily", "copies"], "Give either FILE or --keep-daily FOLDER."),
        (["a.zip", "--days", "3"], "--days goes with --keep-daily."),
    ],
)
def test_backup_of_unclear_words_is_refused(run: Run, words: list[str], said: str) -> None:
    refused = run("backup", *words)
    assert refused.exit_code == 2
    assert said in refused.output


def test_backup_without_a_log_says_where_it_looked(run: Run, tmp_path: Path) -> None:
    refused = run("backup", str(tmp_path / "shed.zip"))
    assert refused.exit_code == 1
    assert "There is no log at" in refused.output


@pytest.mark.parametrize(
    ("words", "said"),
    [(["backup", "a.zip"], "pg_dump --format=custom"), (["restore", "{}"], "pg_restore --clean")],
)
def test_postgresql_is_sent_to_its_own_programs(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], said: str
) -> None:
    (tmp_path / "a.zip").touch()
    monkeypatch.setenv("DATABASE_URL", "postgresql://localhost/shed")
    refused = run(*(word.format(tmp_path / "a.zip") for word in words))
    assert refused.exit_code == 1
    assert said in refused.output


def test_ctrl_c_within_a_backup_leaves_no_file(run: Run, garden: None, tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    program = subprocess.Popen(
        [sys.executable, "-P", "-c", f"{SLOWLY}\n{RUN}", "backup", str(folder / "shed.zip")],
        env=os.environ | {"PYTHONPATH": str(ROOT / "server")},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    try:
        assert program.stdout is not None
        assert program.stdout.readline() == b"copying\n"
        time.sleep(0.5)
        program.send_signal(signal.SIGINT)
        _, told = program.communicate(timeout=30)
    finally:
        program.kill()
        program.communicate()
    assert program.returncode == 1
    assert b"Aborted" in told
    assert list(folder.iterdir()) == []


def test_restore_of_what_is_no_backup_says_so_and_leaves_nothing(run: Run, tmp_path: Path) -> None:
    (tmp_path / "shed.zip").write_text("no zip", encoding="utf-8")
    refused = run("restore", str(tmp_path / "shed.zip"))
    assert refused.exit_code == 1
    assert "Nothing was restored." in refused.output
    assert not (tmp_path / "data").exists()


def test_restore_into_the_folder_in_use_is_refused(run: Run, garden: None, tmp_path: Path) -> None:
    run("backup", str(tmp_path / "shed.zip"))
    refused = run("restore", str(tmp_path / "shed.zip"))
    assert refused.exit_code == 1
    assert "Choose an empty or a new folder." in refused.output
    assert run("restore").exit_code == 2


def test_restore_new_epoch_names_the_gardens(run: Run, garden: None) -> None:
    told = run("restore", "--new-epoch")
    assert told.exit_code == 0, told.output
    assert "The phones of Test garden will pull the log again" in told.stdout


def test_verify_of_a_corrupted_page_ends_with_1(run: Run, garden: None, tmp_path: Path) -> None:
    assert run("verify").exit_code == 0
    spoil_page_of_entries(tmp_path / "data" / LOG_FILE)
    damaged = run("verify")
    assert damaged.exit_code == 1
    assert "The file of the log" in damaged.stdout
    assert "restore the newest that is whole" in damaged.output


def test_verify_of_a_file_that_is_no_store_ends_with_1(run: Run, tmp_path: Path) -> None:
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / LOG_FILE).write_bytes(b"\xa5" * 8192)
    damaged = run("verify")
    assert damaged.exit_code == 1
    assert "can't be read" in damaged.stdout
