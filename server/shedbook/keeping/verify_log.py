"""The log entry by entry: nothing missing, nothing changed, nothing that can't be read."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import inspect, select
from sqlalchemy.orm import Session

from shedbook.keeping.progress import Progress
from shedbook.log.check import check_entry
from shedbook.log.clock import order_of
from shedbook.log.content import content_hash
from shedbook.log.ledger import Ledger
from shedbook.records.entries import columns_of
from shedbook.records.models import Entry, Garden
from shedbook.records.photos import named_image

PAGE = 1000


@dataclass
class LogReading:
    """What reading the whole log yields, for the checks of what is derived from it."""

    ledger: Ledger = field(default_factory=Ledger)
    entries: int = 0
    # What photos name, in any of their tellings: also one that was taken back may be wanted again.
    images: set[str] = field(default_factory=set)


def read_log(
    session: Session, garden: Garden, reading: LogReading, show: Progress
) -> Iterator[str]:
    """Each difference, while the ledger is built from nothing."""
    expected = 1
    while page := _page(session, garden.id, expected - 1):
        entries = []
        for row in page:
            if row["seq"] != expected:
                yield _missing(expected, row["seq"] - 1)
            expected = row["seq"] + 1
            entry = _read(row)
            if isinstance(entry, str):
                yield entry
                continue
            if faults := list(_faults(row, entry)):
                yield from faults
                continue
            if image := named_image(entry):
                reading.images.add(image)
            added = {"seq": row["seq"], "order": row["order"]}
            entries.append(entry | added)
        reading.ledger.add(entries)
        reading.entries += len(page)
        show(expected - 1, garden.head)
    if garden.head >= expected:
        yield _missing(expected, garden.head)
    elif garden.head < expected - 1:
        yield f"The garden says that entry {garden.head} is its last, the log has {expected - 1}."


def _page(session: Session, garden_id: str, cursor: int) -> list[Mapping[str, Any]]:
    columns = inspect(Entry).columns
    rows = session.execute(
        select(*columns)
        .where(Entry.garden_id == garden_id, Entry.seq > cursor)
        .order_by(Entry.seq)
        .limit(PAGE)
    )
    return [dict(row._mapping) for row in rows]


def _read(row: Mapping[str, Any]) -> dict[str, Any] | str:
    try:
        entry = json.loads(row["body"])
    except (ValueError, TypeError) as error:
        return f"Entry {row['seq']} ({row['id']}) can't be read: {error}."
    checked = check_entry(entry)
    if faults := checked.unreadable | checked.problems:
        told = "; ".join(f"{path}: {' '.join(texts)}" for path, texts in faults.items())
        return f"Entry {row['seq']} ({row['id']}) breaks the rules of its kind: {told}"
    read: dict[str, Any] = entry
    return read


def _faults(row: Mapping[str, Any], entry: dict[str, Any]) -> Iterator[str]:
    place = f"Entry {row['seq']} ({row['id']})"
    if content_hash(entry) != row["content_hash"]:
        yield f"{place} was changed after it was stored: its content and its hash differ."
    if entry["garden"] != row["garden_id"]:
        yield f"{place} belongs to the garden {entry['garden']}."
    if row["order"] != order_of(entry["clock"], row["received_at_ms"]):
        yield f"{place} has the order {row['order']}, which does not follow from its clock."
    for name, value in columns_of(entry).items():
        if row[name] != value:
            yield f"{place} is stored under {name} {row[name]}, but says {value}."


def _missing(first: int, last: int) -> str:
    if first == last:
        return f"Entry {first} is missing."
    return f"Entries {first} to {last} are missing."
