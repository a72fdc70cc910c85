"""Which numbers of a notebook have arrived: what makes the loss of an entry visible."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from sqlalchemy import delete, func, insert, select
from sqlalchemy.orm import Session

from shedbook.records.models import Arrival, Device, Notebook, Person

MISSING_LISTED = 100
# In the place of an entry's id: the number was refused or given up, and is not missing.
NOTHING_KEPT = ""
CHUNK = 500


@dataclass(frozen=True)
class NotebookState:
    """Up to `unbroken` every number has come in; `missing` lists the first gaps above it.

    `highest` is the last number known: a phone that has sent a higher one meets a shed that was put
    back to an older copy.
    """

    id: str
    unbroken: int
    missing: list[int]
    highest: int


@dataclass(frozen=True)
class DeviceState:
    """What the shed knows of one device's sending."""

    id: str
    name: str
    person: str
    role: str
    heard_at_ms: int | None
    waiting: int
    missing: int
    revoked_at_ms: int | None


def find_notebook(session: Session, garden_id: str, notebook_id: str) -> Notebook | None:
    """The notebook as it is now, or None before its first entry."""
    return session.scalars(
        select(Notebook)
        .where(Notebook.garden_id == garden_id, Notebook.id == notebook_id)
        .execution_options(populate_existing=True)
    ).one_or_none()


def arrived_numbers(
    session: Session, garden_id: str, notebook_id: str, numbers: Iterable[int]
) -> dict[int, str]:
    """Those of the numbers that have arrived, each with the entry that used it, if one is kept."""
    rows = session.execute(
        select(Arrival.number, Arrival.entry_id).where(
            Arrival.garden_id == garden_id,
            Arrival.notebook_id == notebook_id,
            Arrival.number.in_(set(numbers)),
        )
    )
    return {row.number: row.entry_id for row in rows}


def record_arrivals(session: Session, notebook: Notebook, numbers: Mapping[int, str]) -> None:
    """Store numbers that had not arrived, and move the notebook's marks."""
    if not numbers:
        return
    session.flush()
    # Under these nothing was kept until now, and they are counted already.
    filled = delete(Arrival).where(
        Arrival.garden_id == notebook.garden_id,
        Arrival.notebook_id == notebook.id,
        Arrival.number.in_(set(numbers)),
        Arrival.entry_id == NOTHING_KEPT,
    )
    counted = len(session.execute(filled.returning(Arrival.number)).all())
    session.execute(
        insert(Arrival),
        [
            {
                "garden_id": notebook.garden_id,
                "notebook_id": notebook.id,
                "number": number,
                "entry_id": entry_id,
            }
            for number, entry_id in numbers.items()
        ],
    )
    notebook.arrived += len(numbers) - counted
    notebook.highest = max(notebook.highest, *numbers)
    unbroken = notebook.unbroken
    for number in _numbers_above(session, notebook):
        if number != unbroken + 1:
            break
        unbroken = number
    notebook.unbroken = unbroken
    session.flush()


def notebook_state(session: Session, garden_id: str, notebook_id: str) -> NotebookState:
    """What the phone is told about its own notebook."""
    notebook = find_notebook(session, garden_id, notebook_id)
    if notebook is None:
        return NotebookState(notebook_id, 0, [], 0)
    # How many there are is known, so that one old gap is not looked past in every answer.
    wanted = min(MISSING_LISTED, notebook.highest - notebook.arrived)
    missing: list[int] = []
    expected = notebook.unbroken + 1
    numbers = _numbers_above(session, notebook)
    while len(missing) < wanted:
        number = next(numbers)
        missing.extend(range(expected, min(number, expected + wanted - len(missing))))
        expected = number + 1
    return NotebookState(notebook.id, notebook.unbroken, missing, notebook.highest)


def device_states(session: Session, garden_id: str) -> list[DeviceState]:
    """Every device of the garden, the earliest paired first, the revoked ones too."""
    missing = func.coalesce(func.sum(Notebook.highest - Notebook.arrived), 0)
    rows = session.execute(
        select(Device, Person, missing)
        .join(Person, Person.id == Device.person_id)
        .outerjoin(Notebook, Notebook.device_id == Device.id)
        .where(Device.garden_id == garden_id)
        .group_by(Device.id, Person.id)
        .order_by(Device.created_at_ms, Device.id)
        .execution_options(populate_existing=True)
    )
    return [
        DeviceState(
            device.id,
            device.name,
            person.name,
            person.role,
            device.heard_at_ms,
            device.waiting,
            int(count),
            device.revoked_at_ms,
        )
        for device, person, count in rows
    ]


def present_devices(session: Session, garden_id: str) -> list[DeviceState]:
    """The devices that may still send something."""
    return [one for one in device_states(session, garden_id) if one.revoked_at_ms is None]


def _numbers_above(session: Session, notebook: Notebook) -> Iterator[int]:
    """The arrived numbers above the unbroken ones, fetched as far as the caller reads."""
    last = notebook.unbroken
    while True:
        chunk = session.scalars(
            select(Arrival.number)
            .where(
                Arrival.garden_id == notebook.garden_id,
                Arrival.notebook_id == notebook.id,
                Arrival.number > last,
            )
            .order_by(Arrival.number)
            .limit(CHUNK)
        ).all()
        yield from chunk
        if len(chunk) < CHUNK:
            return
        last = chunk[-1]
