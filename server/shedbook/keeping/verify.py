"""Reads a garden again from its first entry and tells each difference from what is kept."""

import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from shedbook.keeping.progress import Progress, say_nothing
from shedbook.keeping.verify_derived import differences_of_places, differences_of_standing
from shedbook.keeping.verify_log import LogReading, read_log
from shedbook.keeping.verify_numbers import differences_of_notebooks, differences_of_set_aside
from shedbook.keeping.verify_numbers import remarks_on_notebooks as remarks_on
from shedbook.keeping.verify_photos import differences_of_photos, remarks_on_photos
from shedbook.records.gardens import get_garden
from shedbook.records.photos import image_hashes

MOST_TOLD = 20


@dataclass
class Found:
    """`differences` are damage; `remarks` are no fault of the store, but worth knowing."""

    entries: int = 0
    images: int = 0
    differences: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def verify_file(log_file: Path) -> list[str]:
    """What SQLite itself finds wrong with its file, page by page."""
    try:
        with closing(sqlite3.connect(log_file)) as opened:
            told = [row[0] for row in opened.execute(f"PRAGMA integrity_check({MOST_TOLD})")]
    except sqlite3.DatabaseError as error:
        return [f"The file of the log can't be read: {error}."]
    return [] if told == ["ok"] else [f"The file of the log is damaged: {one}." for one in told]


def verify_garden(
    session: Session, garden_id: str, rulebook: Mapping[str, Any], show: Progress = say_nothing
) -> Found:
    """Everything that can be checked about one garden, as it was at one moment."""
    _hold_still(session)
    found = Found()
    reading = LogReading()

    def look(what: str, differences: Callable[[], Iterator[str]]) -> None:
        try:
            told = list(differences())
        except DatabaseError as error:
            session.rollback()
            told = [f"{what} can't be read: {error.orig}."]
        found.differences += shortened(what, told)

    garden = get_garden(session, garden_id)
    images = len(image_hashes(session, garden_id))
    total = garden.head + images

    def show_read(done: int, _of: int) -> None:
        show(done, total)

    def show_looked(done: int, _of: int) -> None:
        show(garden.head + done, total)

    look("The log", lambda: read_log(session, garden, reading, show_read))
    look("The photos", lambda: differences_of_photos(session, garden_id, show_looked))
    look("The notebooks", lambda: differences_of_notebooks(session, garden_id))
    look("What was set aside", lambda: differences_of_set_aside(session, garden_id))
    if not found.differences:
        # A log with a hole folds to another state, which would be told as many faults of one.
        ledger = reading.ledger
        look("Beds and plantings", lambda: differences_of_places(session, garden, ledger))
        look(
            "The findings kept",
            lambda: differences_of_standing(session, garden_id, ledger, rulebook),
        )
        found.remarks += shortened("The notebooks", list(remarks_on(session, garden_id)))
        told = remarks_on_photos(session, garden_id, ledger, reading.images)
        found.remarks += shortened("The photos", list(told))
    found.entries, found.images = reading.entries, images
    return found


def shortened(what: str, told: list[str]) -> list[str]:
    """One broken page can spoil thousands of rows: the first few say enough."""
    if len(told) <= MOST_TOLD:
        return told
    return [*told[:MOST_TOLD], f"{what}: {len(told) - MOST_TOLD} more of this sort."]


def _hold_still(session: Session) -> None:
    """Read all of it as of one moment, while others may write."""
    session.rollback()
    if session.get_bind().dialect.name == "postgresql":
        session.connection(execution_options={"isolation_level": "REPEATABLE READ"})
