"""`shedbook upgrade`: what is behind is refused until its keeper upgrades it, after a backup."""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from shedbook import places
from shedbook.keeping.archive import opened_archive
from shedbook.places import LOG_FILE
from tests.cli.builders import a_bed
from tests.cli.conftest import Run

NEXT = '''"""Give beds a colour."""

from alembic import op

revision = "{number}"
down_revision = "{last}"


def upgrade() -> None:
    op.execute("CREATE TABLE colours (bed TEXT)")
    op.execute("UPDATE gardens SET name = name || '!'")
    {end}
'''
SHIPPED = places.MIGRATIONS
FAILING = 'op.execute("INSERT INTO nowhere VALUES (1)")'
Newer = Callable[[str], str]


@pytest.fixture
def newer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Newer:
    """Makes this program the next version, whose tables have one migration more."""

    def make(end: str = "") -> str:
        folder = tmp_path / "migrations"
        shutil.copytree(SHIPPED, folder, dirs_exist_ok=True)
        last = max(file.name[:4] for file in (SHIPPED / "versions").glob("[0-9]*.py"))
        number = f"{int(last) + 1:04d}"
        text = NEXT.format(number=number, last=last, end=end)
        (folder / "versions" / f"{number}_colour_beds.py").write_text(text, encoding="utf-8")
        monkeypatch.setattr(places, "MIGRATIONS", folder)
        return number

    return make


@pytest.fixture
def log_file(run: Run, tmp_path: Path) -> Path:
    """The log of a garden that this version has written."""
    run("garden", "new", "Test garden", "--zone", "UTC")
    a_bed("Long bed")
    return tmp_path / "data" / LOG_FILE


def schema_of(log_file: Path) -> str:
    return str(_ask(log_file, "SELECT version_num FROM alembic_version"))


def name_in(log_file: Path) -> str:
    return str(_ask(log_file, "SELECT name FROM gardens"))


def _ask(log_file: Path, question: str) -> object:
    with closing(sqlite3.connect(log_file)) as opened:
        return opened.execute(question).fetchone()[0]


def backups_in(folder: Path) -> list[Path]:
    return sorted(folder.glob("data-before-upgrade-*.zip"))


@pytest.mark.parametrize(
    "words", [["garden", "list"], ["due"], ["serve"], ["verify"], ["record", "rain", "depth_mm=3"]]
)
def test_a_store_that_is_behind_is_refused_by_every_command_with_what_to_do(
    run: Run, log_file: Path, newer: Newer, words: list[str]
) -> None:
    before = schema_of(log_file)
    number = newer("")
    refused = run(*words)
    assert refused.exit_code == 1
    assert f"its tables are at {before}, this one needs {number}" in refused.output
    assert "`shedbook upgrade`" in refused.output
    assert schema_of(log_file) == before


def test_upgrade_takes_a_backup_beside_the_data_and_brings_the_tables_up_to_date(
    run: Run, log_file: Path, newer: Newer, tmp_path: Path
) -> None:
    before = schema_of(log_file)
    number = newer("")
    done = run("upgrade")
    assert done.exit_code == 0, done.output
    assert f"Upgraded the tables from {before} to {number}." in done.stdout
    (backup,) = backups_in(tmp_path)
    assert f"Wrote the backup {backup}." in done.stdout
    assert (schema_of(log_file), name_in(log_file)) == (number, "Test garden!")
    with opened_archive(backup) as (_, manifest):
        assert manifest.schema == before
        assert [garden["entries"] for garden in manifest.gardens] == [1]
    assert "Test garden!" in run("garden", "list").stdout


def test_upgrade_again_changes_nothing_and_takes_no_backup(
    run: Run, log_file: Path, tmp_path: Path
) -> None:
    done = run("upgrade")
    assert done.exit_code == 0, done.output
    assert "Nothing was changed." in done.stdout
    assert backups_in(tmp_path) == []


def test_upgrade_that_fails_in_the_middle_leaves_the_old_store_and_the_backup(
    run: Run, log_file: Path, newer: Newer, tmp_path: Path
) -> None:
    before = schema_of(log_file)
    newer(FAILING)
    failed = run("upgrade")
    assert failed.exit_code == 1
    assert "Nothing was upgraded: no such table: nowhere." in failed.output
    assert (schema_of(log_file), name_in(log_file)) == (before, "Test garden")
    assert _ask(log_file, "SELECT count(*) FROM sqlite_master WHERE name = 'colours'") == 0
    (backup,) = backups_in(tmp_path)
    restored = tmp_path / "restored"
    newer("")
    assert run("restore", str(backup), "--data", str(restored)).exit_code == 0
    assert name_in(restored / LOG_FILE) == "Test garden!"


def test_upgrade_without_a_place_for_the_backup_changes_nothing(
    run: Run, log_file: Path, newer: Newer, tmp_path: Path
) -> None:
    before = schema_of(log_file)
    newer("")
    (tmp_path / "taken").write_text("mine", encoding="utf-8")
    taken = run("upgrade", "--backup-to", str(tmp_path / "taken"))
    assert taken.exit_code == 2
    below = run("upgrade", "--backup-to", str(tmp_path / "taken" / "shed.zip"))
    assert below.exit_code == 1
    assert "Nothing was upgraded" in below.output
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "mine"
    assert schema_of(log_file) == before


def test_restore_of_an_older_backup_upgrades_it_and_leaves_the_archive_as_it_was(
    run: Run, log_file: Path, newer: Newer, tmp_path: Path
) -> None:
    archive = tmp_path / "shed.zip"
    run("backup", str(archive))
    content = archive.read_bytes()
    number = newer("")
    moved = tmp_path / "moved"
    restored = run("restore", str(archive), "--data", str(moved))
    assert restored.exit_code == 0, restored.output
    assert (schema_of(moved / LOG_FILE), name_in(moved / LOG_FILE)) == (number, "Test garden!")
    assert archive.read_bytes() == content


def test_upgrade_of_a_newer_store_or_of_none_is_refused(
    run: Run, log_file: Path, tmp_path: Path
) -> None:
    with closing(sqlite3.connect(log_file)) as opened:
        opened.execute("UPDATE alembic_version SET version_num = '9999'")
        opened.commit()
    refused = run("upgrade")
    assert refused.exit_code == 1
    assert "newer Shedbook" in refused.output
    assert backups_in(tmp_path) == []
    missing = run("upgrade", "--data", str(tmp_path / "nowhere"))
    assert missing.exit_code == 1
    assert "There is no log at" in missing.output
    assert not (tmp_path / "nowhere").exists()
