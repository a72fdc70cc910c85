"""Everything that a garden's log holds, as lines of JSON: what `import_log` takes back."""

import json
from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from shedbook.records.entries import entries_after
from shedbook.records.models import SetAside

PAGE = 2000


def log_lines(session: Session, garden_id: str) -> Iterator[str]:
    """Each entry in the order of the log, then each that was set aside, in the order it came."""
    cursor = 0
    while page := entries_after(session, garden_id, cursor, PAGE):
        yield from page
        cursor = json.loads(page[-1])["seq"]
    rows = session.execute(
        select(SetAside.raw, SetAside.problems, SetAside.received_at_ms, SetAside.mended_by)
        .where(SetAside.garden_id == garden_id)
        .order_by(SetAside.received_at_ms, SetAside.entry_id)
    )
    for row in rows:
        line = {
            "set_aside": json.loads(row.raw),
            "problems": json.loads(row.problems),
            "received_at": row.received_at_ms,
        }
        yield json.dumps(line if row.mended_by is None else line | {"mended_by": row.mended_by})
