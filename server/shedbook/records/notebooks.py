"""Which numbers of a notebook have arrived: what makes the loss of an entry visible."""

import typing
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from sqlalchemy import BigInteger, Table, bindparam, cast, delete, func, select
from sqlalchemy.orm import Session

from shedbook.records.among import among
from shedbook.records.models import Arrival, Device, Notebook, Person
from shedbook.records.rows import add_rows

_ARRIVALS = typing.cast(Table, Arrival.__table__)
MISSING_LISTED = 100
# In the place of an entry's id: the number was refused or given up, and is not missing.
NOTHING_KEPT = ""
CHUNK = 500

# Every exchange asks these: they are put together once, and of tables, which answer in half the
# time that mapped classes take.
_devices, _people, _notebooks = (kind.__table__.c for kind in (Device, Person, Notebook))
_MARKS = select(_notebooks.unbroken, _notebooks.highest, _notebooks.arrived).where(
    _notebooks.garden_id == bindparam("garden"), _notebooks.id == bindparam("notebook")
)
_MISSING = func.coalesce(func.sum(_notebooks.highest - _notebooks.arrived), 0)
_DEVICES = (
    select(
        _devices.id,
        _devices.name,
        _people.name,
        _people.role,
        _devices.heard_at_ms,
        _devices.waiting,
        # A sum of PostgreSQL is a decimal.
        cast(_MISSING, BigInteger),
        _devices.revoked_at_ms,
    )
    .join_from(Device.__table__, Person.__table__, _people.id == _devices.person_id)
    .outerjoin(Notebook.__table__, _notebooks.device_id == _devices.id)
    .where(_devices.garden_id == bindparam("garden"))
    .group_by(_devices.id, _people.id)
    .order_by(_devices.created_at_ms, _devices.id)
)


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
            among(session, Arrival.number, set(numbers)),
        )
    )
    return {row.number: row.entry_id for row in rows}


def record_arrivals(session: Session, notebook: Notebook, numbers: Mapping[int, str]) -> None:
    """Store numbers that had not arrived, and move the notebook's marks."""
    if not numbers:
        return
    session.flush()
    counted = 0
    # Above the highest nothing has arrived yet.
    if min(numbers) <= notebook.highest:
        # Under these nothing was kept until now, and they are counted already.
        filled = delete(Arrival).where(
            Arrival.garden_id == notebook.garden_id,
            Arrival.notebook_id == notebook.id,
            among(session, Arrival.number, numbers),
            Arrival.entry_id == NOTHING_KEPT,
        )
        counted = len(session.execute(filled.returning(Arrival.number)).all())
    add_rows(
        session,
        _ARRIVALS,
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
    if notebook.arrived == notebook.highest:
        unbroken = notebook.highest
    else:
        for number in _numbers_above(session, notebook.garden_id, notebook.id, unbroken):
            if number != unbroken + 1:
                break
            unbroken = number
    notebook.unbroken = unbroken
    session.flush()


def notebook_state(session: Session, garden_id: str, notebook_id: str) -> NotebookState:
    """What the phone is told about its own notebook."""
    asked = {"garden": garden_id, "notebook": notebook_id}
    marks = session.execute(_MARKS, asked).one_or_none()
    if marks is None:
        return NotebookState(notebook_id, 0, [], 0)
    # How many there are is known, so that one old gap is not looked past in every answer.
    wanted = min(MISSING_LISTED, marks.highest - marks.arrived)
    missing: list[int] = []
    expected = marks.unbroken + 1
    numbers = _numbers_above(session, garden_id, notebook_id, marks.unbroken)
    while len(missing) < wanted:
        number = next(numbers)
        missing.extend(range(expected, min(number, expected + wanted - len(missing))))
        expected = number + 1
    return NotebookState(notebook_id, marks.unbroken, missing, marks.highest)


def device_states(session: Session, garden_id: str) -> list[DeviceState]:
    """Every device of the garden, the earliest paired first, the revoked ones too."""
    return [DeviceState(*row) for row in session.execute(_DEVICES, {"garden": garden_id})]


def present_devices(session: Session, garden_id: str) -> list[DeviceState]:
    """The devices that may still send something."""
    return [one for one in device_states(session, garden_id) if one.revoked_at_ms is None]


def _numbers_above(
    session: Session, garden_id: str, notebook_id: str, unbroken: int
) -> Iterator[int]:
    """The arrived numbers above the unbroken ones, fetched as far as the caller reads."""
    last = unbroken
    while True:
        chunk = session.scalars(
            select(Arrival.number)
            .where(
                Arrival.garden_id == garden_id,
                Arrival.notebook_id == notebook_id,
                Arrival.number > last,
            )
            .order_by(Arrival.number)
            .limit(CHUNK)
        ).all()
        yield from chunk
        if len(chunk) < CHUNK:
            return
        last = chunk[-1]
