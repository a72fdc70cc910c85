"""Numbers of notebooks, and what was set aside: whatever has arrived must still be there."""

import json
from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from shedbook.log.content import content_hash
from shedbook.records.models import Arrival, Device, Entry, Notebook, SetAside
from shedbook.records.notebooks import notebook_state


def differences_of_notebooks(session: Session, garden_id: str) -> Iterator[str]:
    """Entries whose number is not known to have arrived, and marks that count wrongly."""
    arrivals = _arrivals(session, garden_id)
    for entry_id, notebook, number in _held(session, garden_id):
        if arrivals.get(notebook, {}).get(number) != entry_id:
            yield f"Entry {entry_id} is stored, but number {number} of its notebook is not."
    yield from _marks(session, garden_id, arrivals)


def differences_of_set_aside(session: Session, garden_id: str) -> Iterator[str]:
    """What can't be read of it, was changed, or is said to be mended by nothing."""
    rows = session.execute(
        select(
            SetAside.entry_id,
            SetAside.raw,
            SetAside.problems,
            SetAside.content_hash,
            SetAside.mended_by,
            Entry.seq,
        )
        .outerjoin(
            Entry, (Entry.garden_id == SetAside.garden_id) & (Entry.id == SetAside.mended_by)
        )
        .where(SetAside.garden_id == garden_id)
    )
    for row in rows:
        try:
            raw = json.loads(row.raw)
            json.loads(row.problems)
        except (ValueError, TypeError) as error:
            yield f"The entry {row.entry_id}, which was set aside, can't be read: {error}."
            continue
        if content_hash(raw) != row.content_hash:
            yield f"The entry {row.entry_id}, which was set aside, was changed afterwards."
        if row.mended_by is not None and row.seq is None:
            yield f"The entry {row.entry_id} is said to be mended by one that is not in the log."


def remarks_on_notebooks(session: Session, garden_id: str) -> Iterator[str]:
    """Numbers that have not come in, and those that came with nothing to keep."""
    notebooks = session.execute(
        select(Notebook.id, Notebook.highest, Notebook.arrived, Device.name)
        .join(Device, Device.id == Notebook.device_id)
        .where(Notebook.garden_id == garden_id)
        .order_by(Notebook.id)
    ).all()
    arrivals = _arrivals(session, garden_id)
    held = {entry_id for entry_id, _, _ in _held(session, garden_id)}
    for row in notebooks:
        of_it = f"{row.name}: of its notebook {row.id} these"
        if row.highest > row.arrived:
            missing = notebook_state(session, garden_id, row.id).missing
            yield f"{of_it} have not arrived: {_listed(missing)}."
        numbers = arrivals.get(row.id, {})
        if empty := sorted(number for number in numbers if numbers[number] not in held):
            yield f"{of_it} were refused, or given up by the phone: {_listed(empty)}."


def _arrivals(session: Session, garden_id: str) -> dict[str, dict[int, str]]:
    """By notebook: each number that has arrived, with the entry that used it."""
    arrivals: dict[str, dict[int, str]] = {}
    for row in session.execute(
        select(Arrival.notebook_id, Arrival.number, Arrival.entry_id).where(
            Arrival.garden_id == garden_id
        )
    ):
        arrivals.setdefault(row.notebook_id, {})[row.number] = row.entry_id
    return arrivals


def _held(session: Session, garden_id: str) -> Iterator[tuple[str, str, int]]:
    """Id, notebook and number of everything that is kept, in the log or set aside."""
    for table, key in ((Entry, Entry.id), (SetAside, SetAside.entry_id)):
        rows = session.execute(
            select(key, table.notebook_id, table.number).where(table.garden_id == garden_id)
        )
        yield from ((row[0], row.notebook_id, row.number) for row in rows)


def _listed(numbers: list[int]) -> str:
    return ", ".join(str(number) for number in numbers)


def _marks(session: Session, garden_id: str, arrivals: dict[str, dict[int, str]]) -> Iterator[str]:
    kept = {
        row.id: (row.unbroken, row.highest, row.arrived)
        for row in session.execute(
            select(Notebook.id, Notebook.unbroken, Notebook.highest, Notebook.arrived).where(
                Notebook.garden_id == garden_id
            )
        )
    }
    for notebook_id in sorted({*kept, *arrivals}):
        numbers = arrivals.get(notebook_id, {})
        unbroken = 0
        while unbroken + 1 in numbers:
            unbroken += 1
        counted = (unbroken, max(numbers, default=0), len(numbers))
        if kept.get(notebook_id) != counted:
            yield (
                f"Notebook {notebook_id} is kept as (unbroken, highest, arrived) "
                f"{kept.get(notebook_id)}, its numbers give {counted}."
            )
