"""What the store holds about a batch: read at once before it is decided, written at once after."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import bindparam, select
from sqlalchemy.orm import Session

from shedbook.log.identity import is_id_again
from shedbook.log.telling import GARDEN_KINDS, MENDING_KINDS
from shedbook.records.asked import Asked
from shedbook.records.entries import (
    KnownEntry,
    NewEntry,
    append_entries,
    known_entries,
)
from shedbook.records.gardens import follow_settings
from shedbook.records.groups import forget_standing
from shedbook.records.models import Device, Garden, Notebook, SetAside
from shedbook.records.notebooks import arrived_numbers, find_notebook, record_arrivals
from shedbook.records.people import Paired
from shedbook.sync.envelope import Readable, Unreadable

# After these the garden's own name or zone may be another one.
_SETTLING_KINDS = frozenset({*GARDEN_KINDS, *MENDING_KINDS})
_ASIDE = Asked(
    lambda among: select(SetAside).where(
        SetAside.garden_id == bindparam("garden"), among(SetAside.entry_id, "ids")
    )
)


@dataclass
class BatchStore:
    """What the store holds about the entries of this batch, growing as they are decided."""

    known: dict[str, KnownEntry]
    set_aside: dict[str, SetAside]
    arrived: dict[int, str]
    notebook: Notebook | None
    # Another person's, whose device was not shut out.
    is_notebook_foreign: bool
    is_notebook_own: bool
    new: list[NewEntry] = field(default_factory=list)
    aside: list[SetAside] = field(default_factory=list)
    newly_arrived: dict[int, str] = field(default_factory=dict)


def read_store(
    session: Session,
    garden_id: str,
    paired: Paired,
    notebook_id: str,
    batch: Sequence[Readable | Unreadable],
    given_up: Sequence[int],
) -> BatchStore:
    readable = [item for item in batch if isinstance(item, Readable)]
    ids = {item.id for item in readable}
    named = {name for item in readable for name in _names_in(item.entry)}
    aside = _ASIDE(session, garden=garden_id, ids=ids | named).scalars()
    notebook = find_notebook(session, garden_id, notebook_id)
    owner = None if notebook is None else session.get_one(Device, notebook.device_id)
    is_own = owner is None or owner.person_id == paired.person_id
    return BatchStore(
        known=known_entries(session, garden_id, ids | named),
        set_aside={row.entry_id: row for row in aside},
        arrived=arrived_numbers(
            session, notebook, [*(item.number for item in readable), *given_up]
        ),
        notebook=notebook,
        # A notebook moves with its person and from a revoked device; else two phones share one.
        is_notebook_foreign=owner is not None and not is_own and owner.revoked_at_ms is None,
        is_notebook_own=is_own,
    )


def _names_in(entry: Mapping[str, Any]) -> set[str]:
    """Every id by which this entry points at another."""
    subjects, details = entry.get("subjects"), entry.get("details")
    pointers = [entry.get("mends")]
    if isinstance(subjects, Mapping):
        pointers += [subjects.get("bed"), subjects.get("planting")]
    if isinstance(details, Mapping):
        pointers.append(details.get("entry"))
    return {pointer for pointer in pointers if isinstance(pointer, str) and is_id_again(pointer)}


def write_store(
    session: Session, garden: Garden, paired: Paired, notebook_id: str, store: BatchStore
) -> None:
    notebook = store.notebook
    if notebook is None:
        notebook = Notebook(
            garden_id=garden.id,
            id=notebook_id,
            device_id=paired.device_id,
            unbroken=0,
            highest=0,
            arrived=0,
        )
        session.add(notebook)
    # Only who writes on in it takes a notebook over.
    if store.new:
        notebook.device_id = paired.device_id
    for row in store.aside:
        row.garden_id = garden.id
    session.add_all(store.aside)
    append_entries(session, garden, store.new)
    record_arrivals(session, notebook, store.newly_arrived)
    if store.new:
        told = [item.columns for item in store.new]
        scope = forget_standing(session, garden.id, told)
        if scope.garden_wide and any(one["kind"] in _SETTLING_KINDS for one in told):
            follow_settings(session, garden)
            session.flush()
