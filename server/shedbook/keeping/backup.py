"""Copies of the log that are whole and of one moment, taken while phones go on writing."""

import re
import sqlite3
import zipfile
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from shedbook import places
from shedbook.keeping.archive import FORMAT, MANIFEST, Manifest, pack
from shedbook.keeping.progress import Progress, say_nothing
from shedbook.keeping.staging import staged_file
from shedbook.version import app_version

BUSY_SECONDS = 10
_PAGES = 256
_DAILY = re.compile(r"shedbook-\d{4}-\d\d-\d\d\.zip", re.ASCII)


class LogDamaged(Exception):
    """The log can't be copied because it can't be read; older copies are worth keeping."""


def write_backup(log_file: Path, target: Path, show: Progress = say_nothing) -> Manifest:
    """Write one archive of the log as it is now. Raises LogDamaged.

    Nothing lies at `target` until the archive is whole; what lay there is replaced in one step.
    """
    with staged_file(target) as partial:
        # Half of the way is copying, half is packing.
        copy = partial.with_name("copy.sqlite3")
        copy_log(log_file, copy, lambda done, total: show(done, 2 * total))
        schema, gardens = _read_facts(copy)
        with zipfile.ZipFile(partial, "w", zipfile.ZIP_DEFLATED) as archive:
            packed = pack(
                archive,
                copy,
                places.LOG_FILE,
                lambda done, total: show(total + done, 2 * total),
            )
            manifest = Manifest(
                format=FORMAT,
                app=app_version(),
                schema=schema,
                made_at=datetime.now(UTC).isoformat(timespec="seconds"),
                gardens=gardens,
                files={places.LOG_FILE: packed},
            )
            archive.writestr(MANIFEST, manifest.as_text())
        partial.chmod(0o600)
    return manifest


def keep_daily(
    log_file: Path, folder: Path, days: int, today: date, show: Progress = say_nothing
) -> tuple[Path, list[Path]]:
    """Write the copy of today, then remove daily copies beyond the newest `days`.

    A later copy of the same day replaces the earlier one. Files of other names are left alone, and
    nothing is removed when the copy fails.
    """
    target = folder / f"shedbook-{today.isoformat()}.zip"
    write_backup(log_file, target, show)
    daily = sorted(file for file in folder.iterdir() if _DAILY.fullmatch(file.name))
    removed = daily[:-days]
    for file in removed:
        file.unlink()
    return target, removed


def copy_log(log_file: Path, target: Path, show: Progress = say_nothing) -> None:
    """Copy an SQLite store that others may be writing to. Raises LogDamaged."""
    with closing(_open(log_file)) as source, closing(sqlite3.connect(target)) as copy:
        # The copy is of the moment of this read: else each entry that a phone brings meanwhile
        # would make SQLite begin again, and a busy day would have no backup.
        source.execute("BEGIN")
        source.execute("SELECT count(*) FROM sqlite_master").fetchone()

        def progress(_status: int, remaining: int, total: int) -> None:
            show(total - remaining, total)

        try:
            source.backup(copy, pages=_PAGES, progress=progress)
            # One file, without a companion that could be forgotten.
            copy.execute("PRAGMA journal_mode = DELETE")
            found = [row[0] for row in copy.execute("PRAGMA quick_check(3)")]
        except sqlite3.DatabaseError as error:
            raise _damaged(str(error)) from error
    if found != ["ok"]:
        raise _damaged(found[0])


def _open(log_file: Path) -> sqlite3.Connection:
    address = f"{log_file.resolve().as_uri()}?mode=rw"
    return sqlite3.connect(address, uri=True, timeout=BUSY_SECONDS, isolation_level=None)


def _damaged(what: str) -> LogDamaged:
    return LogDamaged(
        f"The log is damaged ({what}), so no copy was made. Keep your older copies. "
        "`shedbook verify` says what is wrong."
    )


def _read_facts(copy: Path) -> tuple[str, list[dict[str, Any]]]:
    """The version of the tables, and the gardens with how many entries each has."""
    with closing(sqlite3.connect(copy)) as opened:
        try:
            schema = opened.execute("SELECT version_num FROM alembic_version").fetchone()[0]
            rows = opened.execute("SELECT id, name, head FROM gardens ORDER BY id").fetchall()
        except (sqlite3.OperationalError, TypeError) as error:
            raise LogDamaged("This is no log of Shedbook.") from error
    return schema, [{"id": row[0], "name": row[1], "entries": row[2]} for row in rows]
