"""Puts a backup back, into a folder that holds nothing yet."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import delete

from shedbook import places
from shedbook.keeping.archive import ArchiveUnfit, Manifest, opened_archive, unpack
from shedbook.keeping.progress import Progress, say_nothing
from shedbook.keeping.staging import staged_folder
from shedbook.records.engine import writing
from shedbook.records.gardens import all_gardens, start_new_epoch
from shedbook.records.models import Invitation


@dataclass(frozen=True)
class Unpacked:
    """A backup on its way in: the folder that its files lie in until all is done."""

    folder: Path
    manifest: Manifest


@contextmanager
def unpacked(archive_file: Path, data: Path, show: Progress = say_nothing) -> Iterator[Unpacked]:
    """The checked files of a backup; they move into `data` at the end of the block.

    Raises ArchiveUnfit or FolderInUse, and leaves nothing behind then or when the block raises.
    """
    with staged_folder(data) as staging:
        with opened_archive(archive_file) as (archive, manifest):
            for name, member in manifest.files.items():
                unpack(archive, name, member, staging / name, show)
        _check(staging / places.LOG_FILE)
        yield Unpacked(staging, manifest)


def begin_anew() -> list[str]:
    """Tell every garden's phones to pull from the start and to send again what is missing here.

    One-time codes of that time are void: one of them may have been spent since. Needs an app
    context; answers the names of the gardens.
    """
    gardens = [(garden.id, garden.name) for garden in all_gardens()]
    with writing() as session:
        session.execute(delete(Invitation))
    for garden_id, _ in gardens:
        start_new_epoch(garden_id)
    return [name for _, name in gardens]


def _check(log_file: Path) -> None:
    try:
        with closing(sqlite3.connect(log_file)) as opened:
            found = opened.execute("PRAGMA quick_check(1)").fetchone()[0]
    except sqlite3.DatabaseError as error:
        found = str(error)
    if found != "ok":
        raise ArchiveUnfit(f"The log in this backup is damaged ({found}). Take another copy.")
