"""Whether the store can take entries: told to a process manager, a proxy, or a person."""

import logging
import shutil
import threading

from sqlalchemy import Engine, func, select
from sqlalchemy.exc import DBAPIError

from shedbook.log.clock import TRUSTED_AHEAD_MS
from shedbook.records.engine import try_writing
from shedbook.records.models import Entry, Garden, db
from shedbook.records.refusals import CannotWrite, StoreBusy, folder_of, refusal_of_disk
from shedbook.records.schema import SchemaUnfit, require_present

# Enough for some hundred pushes, and for SQLite's own files beside the log.
LEAST_ROOM_BYTES = 16 * 1024 * 1024
# 2024-01-01. A small computer without a battery for its clock wakes up in an earlier year.
EARLIEST_MS = 1_704_067_200_000
# Anyone may ask, as often as they like: for so long what was found last is told again.
REMEMBERED_MS = 3_000

OTHER_TABLES = "The tables are of another version of Shedbook. The shed's log says what to do."

Problems = dict[str, list[str]]
_log = logging.getLogger(__name__)


class Readiness:
    """What was found when someone looked last. One looks at a time, and nobody waits for it."""

    def __init__(self) -> None:
        self._turn = threading.Lock()
        self._looked_ms: int | None = None
        self._was_busy = False
        self._problems: Problems = {}

    def find_problems(self, at_ms: int) -> Problems:
        """What keeps the shed from taking entries, by what is concerned. Needs an app context."""
        if not self._turn.acquire(blocking=self._looked_ms is None):
            return self._problems
        try:
            if self._looked_ms is None or not 0 <= at_ms - self._looked_ms < REMEMBERED_MS:
                self._look(at_ms)
                self._looked_ms = at_ms
            return self._problems
        finally:
            self._turn.release()

    def _look(self, at_ms: int) -> None:
        found: dict[str, list[str]]
        # Told to whoever runs the shed, and to the log alone.
        more = None
        try:
            with db.engine.connect() as connection:
                require_present(connection)
            found = self._of_writing() | {"clock": clock_problems(at_ms), "disk": _disk(db.engine)}
        except SchemaUnfit as error:
            found = {"tables": [OTHER_TABLES]}
            more = str(error)
        except CannotWrite as error:
            found = {"store": [str(error)], "disk": _disk(db.engine)}
        except DBAPIError:
            found = {"store": ["The store does not answer. The shed's log says more."]}
        problems = {concerned: said for concerned, said in found.items() if said}
        if problems and problems != self._problems:
            facts = {"problems": problems | ({"tables": [more]} if more else {})}
            _log.warning("not ready", extra={"facts": facts})
        self._problems = problems

    def _of_writing(self) -> Problems:
        """Someone writes at most times in a busy garden: only one who stays keeps others out."""
        try:
            try_writing(db.engine)
        except StoreBusy as error:
            is_long, self._was_busy = self._was_busy, True
            return {"store": [str(error)]} if is_long else {}
        self._was_busy = False
        return {}


def clock_problems(at_ms: int) -> list[str]:
    """What is wrong with the shed's own clock, as far as the log can tell. Raises DBAPIError."""
    if at_ms < EARLIEST_MS:
        return ["The shed's clock stands before 2024. Set it: entries are put in order by it."]
    newest = db.session.scalar(
        select(func.max(Entry.received_at_ms)).join(
            Garden, (Garden.id == Entry.garden_id) & (Garden.head == Entry.seq)
        )
    )
    if newest is not None and at_ms < newest - TRUSTED_AHEAD_MS:
        return [
            "The shed's clock stands before the newest entry came in. Set it: entries are put in "
            "order by it."
        ]
    return []


def _disk(engine: Engine) -> list[str]:
    folder = folder_of(engine)
    if folder is None:
        return []
    refusal = refusal_of_disk(folder)
    if refusal is not None:
        return [str(refusal)]
    if shutil.disk_usage(folder).free < LEAST_ROOM_BYTES:
        return ["The shed's disk is almost full. Free some room before it takes no more entries."]
    return []
