"""Whether the store can take entries: told to a process manager, a proxy, or a person."""

import logging
import shutil

from sqlalchemy import Engine, func, select
from sqlalchemy.exc import DBAPIError

from shedbook.log.clock import TRUSTED_AHEAD_MS
from shedbook.records.engine import writing
from shedbook.records.models import Entry, Garden, db
from shedbook.records.refusals import CannotWrite, folder_of, refusal_of_disk
from shedbook.records.schema import SchemaUnfit, require_present

# Enough for some hundred pushes, and for SQLite's own files beside the log.
LEAST_ROOM_BYTES = 16 * 1024 * 1024
# 2024-01-01. A small computer without a battery for its clock wakes up in an earlier year.
EARLIEST_MS = 1_704_067_200_000

Problems = dict[str, list[str]]
_log = logging.getLogger(__name__)


def find_problems(at_ms: int) -> Problems:
    """What keeps the shed from taking entries, by what is concerned; the log is told of it too.

    Needs an app context.
    """
    try:
        with db.engine.connect() as connection:
            require_present(connection)
        with writing():
            # To begin a write is enough; nothing is written.
            pass
        found = {"clock": clock_problems(at_ms), "disk": _disk(db.engine)}
    except SchemaUnfit as error:
        found = {"tables": [str(error)]}
    except CannotWrite as error:
        found = {"store": [str(error)], "disk": _disk(db.engine)}
    except DBAPIError:
        found = {"store": ["The store does not answer. The shed's log says more."]}
    problems = {concerned: said for concerned, said in found.items() if said}
    if problems:
        _log.warning("not ready", extra={"facts": {"problems": problems}})
    return problems


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
