"""Which numbers of a notebook have arrived: what makes the loss of an entry visible."""

import typing
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from sqlalchemy import BigInteger, Table, bindparam, cast, delete, func, select
from sqlalchemy.orm import Session

from shedbook.records.asked import Asked
from shedbook.records.gardens import GardenNotFound, LogEnd
from shedbook.records.models import Arrival, Device, Garden, Notebook, Person
from shedbook.records.people import Named
from shedbook.records.rows import add_rows

_ARRIVALS = typing.cast(Table, Arrival.__table__)
MISSING_LISTED = 100
# In the place of an entry's id: the number was refused or given up, and is not missing.
NOTHING_KEPT = ""
CHUNK = 500

# Of tables, which answer in half the time that mapped classes take.
_gardens, _devices, _people, _notebooks, _arrivals = (
    kind.__table__.c for kind in (Garden, Device, Person, Notebook, Arrival)
)
_NOTEBOOK = Asked(
    lambda _: (
        select(Notebook)
        .where(Notebook.garden_id == bindparam("garden"), Notebook.id == bindparam("notebook"))
        .execution_options(populate_existing=True)
    )
)
_ARRIVED = Asked(
    lambda among: select(_arrivals.number, _arrivals.entry_id).where(
        _arrivals.garden_id == bindparam("garden"),
        _arrivals.notebook_id == bindparam("notebook"),
        among(_arrivals.number, "numbers"),
    )
)
# Under these nothing was kept until now, and they are counted already.
_FILLED = Asked(
    lambda among: (
        delete(_ARRIVALS)
        .where(
            _arrivals.garden_id == bindparam("garden"),
            _arrivals.notebook_id == bindparam("notebook"),
            among(_arrivals.number, "numbers"),
            _arrivals.entry_id == NOTHING_KEPT,
        )
        .returning(_arrivals.number)
    )
)
_MISSING = func.coalesce(func.sum(_notebooks.highest - _notebooks.arrived), 0)
_own = typing.cast(Table, Notebook.__table__).alias("own")
# One question, since every exchange asks for all of it: a second one costs as much as it again.
_AROUND = Asked(
    lambda _: (
        select(
            _gardens.head,
            _gardens.epoch,
            _own.c.unbroken,
            _own.c.highest,
            _own.c.arrived,
            _people.id,
            _people.name,
            _people.role,
            _devices.id,
            _devices.name,
            _devices.heard_at_ms,
            _devices.waiting,
            # A sum of PostgreSQL is a decimal.
            cast(_MISSING, BigInteger),
            _devices.revoked_at_ms,
        )
        .outerjoin_from(
            Garden.__table__,
            _own,
            (_own.c.garden_id == _gardens.id) & (_own.c.id == bindparam("notebook")),
        )
        # People who have no device yet are named too.
        .outerjoin(Person.__table__, _people.garden_id == _gardens.id)
        .outerjoin(Device.__table__, _devices.person_id == _people.id)
        .outerjoin(Notebook.__table__, _notebooks.device_id == _devices.id)
        .where(_gardens.id == bindparam("garden"))
        .group_by(_gardens.id, _own.c.garden_id, _own.c.id, _people.id, _devices.id)
        .order_by(_devices.created_at_ms, _devices.id)
    )
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


class Surroundings(NamedTuple):
    """What every exchange is told: how far the log reaches, how far its own notebook, and the
    people of the garden by name with their devices, the earliest paired first.
    """

    log: LogEnd
    notebook: NotebookState
    people: list[Named]
    devices: list[DeviceState]

    def present_devices(self) -> list[DeviceState]:
        """The devices that may still send something."""
        return [one for one in self.devices if one.revoked_at_ms is None]


def find_notebook(session: Session, garden_id: str, notebook_id: str) -> Notebook | None:
    """The notebook as it is now, or None before its first entry."""
    found = _NOTEBOOK(session, garden=garden_id, notebook=notebook_id)
    return typing.cast("Notebook | None", found.scalar_one_or_none())


def arrived_numbers(
    session: Session, notebook: Notebook | None, numbers: Iterable[int]
) -> dict[int, str]:
    """Those of the numbers that have arrived, each with the entry that used it, if one is kept."""
    # Above the highest nothing has arrived yet, and there most of a batch lies.
    asked = {number for number in numbers if notebook and number <= notebook.highest}
    if notebook is None or not asked:
        return {}
    rows = _ARRIVED(session, garden=notebook.garden_id, notebook=notebook.id, numbers=asked)
    return {row.number: row.entry_id for row in rows}


def record_arrivals(session: Session, notebook: Notebook, numbers: Mapping[int, str]) -> None:
    """Store numbers that had not arrived, and move the notebook's marks."""
    if not numbers:
        return
    session.flush()
    counted = 0
    # Above the highest nothing has arrived yet.
    if min(numbers) <= notebook.highest:
        filled = _FILLED(
            session, garden=notebook.garden_id, notebook=notebook.id, numbers=list(numbers)
        )
        counted = len(filled.all())
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
    return surroundings_of(session, garden_id, notebook_id).notebook


def surroundings_of(session: Session, garden_id: str, notebook_id: str) -> Surroundings:
    """How far the garden's log reaches now, the notebook, and everyone who was ever invited with
    all their devices; raises GardenNotFound.
    """
    rows = _AROUND(session, garden=garden_id, notebook=notebook_id).all()
    if not rows:
        raise GardenNotFound(garden_id)
    head, epoch, *marks = rows[0][:5]
    people: dict[str, Named] = {}
    devices = []
    for *_, person_id, person, role, device_id, name, heard, waiting, missing, revoked in rows:
        if person_id is not None:
            people[person_id] = Named(person_id, person, role)
        if device_id is not None:
            known = (device_id, name, person, role, heard, waiting, missing, revoked)
            devices.append(DeviceState(*known))
    return Surroundings(
        LogEnd(head, epoch),
        _state_of(session, garden_id, notebook_id, *marks),
        sorted(people.values(), key=lambda one: one.name),
        devices,
    )


def _state_of(
    session: Session,
    garden_id: str,
    notebook_id: str,
    unbroken: int | None,
    highest: int,
    arrived: int,
) -> NotebookState:
    """The notebook by its marks, which are None before its first entry."""
    if unbroken is None:
        return NotebookState(notebook_id, 0, [], 0)
    # How many there are is known, so that one old gap is not looked past in every answer.
    wanted = min(MISSING_LISTED, highest - arrived)
    missing: list[int] = []
    expected = unbroken + 1
    numbers = _numbers_above(session, garden_id, notebook_id, unbroken) if wanted else ()
    # On PostgreSQL a gap may have been filled since the marks were read: then there are fewer.
    for number in numbers:
        missing.extend(range(expected, min(number, expected + wanted - len(missing))))
        expected = number + 1
        if len(missing) == wanted:
            break
    return NotebookState(notebook_id, unbroken, missing, highest)


def device_states(session: Session, garden_id: str) -> list[DeviceState]:
    """Every device of the garden, the earliest paired first, the revoked ones too."""
    return surroundings_of(session, garden_id, "").devices


def present_devices(session: Session, garden_id: str) -> list[DeviceState]:
    """The devices that may still send something."""
    return surroundings_of(session, garden_id, "").present_devices()


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
