"""Private addresses under which a calendar program fetches what is due."""

import hashlib
import secrets
import uuid
from dataclasses import dataclass

from sqlalchemy import exists, select
from sqlalchemy.orm import Session

from shedbook.records.engine import now_ms, writing
from shedbook.records.models import Calendar, Device, Garden, Person, db

TOKEN_BYTES = 32


@dataclass(frozen=True)
class Subscribed:
    """Whose calendar it is, and of which garden."""

    garden_id: str
    garden_name: str
    zone: str
    role: str
    language: str


@dataclass(frozen=True)
class CalendarState:
    """One private address as its owner and the lead see it; the address itself is told once."""

    id: str
    person: str
    created_at_ms: int
    own: bool


def create_calendar(
    garden_id: str, person_id: str, language: str, *, at_ms: int | None = None
) -> tuple[str, str]:
    """Make a private address for a person: its id, and its token, told this once."""
    token = secrets.token_urlsafe(TOKEN_BYTES)
    made = Calendar(
        id=str(uuid.uuid4()),
        garden_id=garden_id,
        person_id=person_id,
        token_hash=_hash(token),
        language=language,
        created_at_ms=now_ms() if at_ms is None else at_ms,
    )
    with writing() as session:
        session.add(made)
    return made.id, token


def find_subscribed(token: str) -> Subscribed | None:
    """Whose the token is; None for one that was never made, or was shut.

    Nor does it let anyone in whose last device was shut out.
    """
    may_come_in = exists().where(
        Device.person_id == Calendar.person_id, Device.revoked_at_ms.is_(None)
    )
    row = db.session.execute(
        select(Calendar.language, Person.role, Garden)
        .join(Person, Person.id == Calendar.person_id)
        .join(Garden, Garden.id == Calendar.garden_id)
        .where(Calendar.token_hash == _hash(token), Calendar.revoked_at_ms.is_(None), may_come_in)
    ).one_or_none()
    if row is None:
        return None
    garden = row.Garden
    return Subscribed(garden.id, garden.name, garden.zone, row.role, row.language)


def open_calendars(
    session: Session, garden_id: str, person_id: str, *, of_all: bool
) -> list[CalendarState]:
    """The addresses that still work: a person's own, or those of everybody."""
    asked = (
        select(Calendar, Person.name)
        .join(Person, Person.id == Calendar.person_id)
        .where(Calendar.garden_id == garden_id, Calendar.revoked_at_ms.is_(None))
        .order_by(Calendar.created_at_ms, Calendar.id)
        .execution_options(populate_existing=True)
    )
    return [
        CalendarState(
            row.Calendar.id,
            row.name,
            row.Calendar.created_at_ms,
            row.Calendar.person_id == person_id,
        )
        for row in session.execute(asked)
        if of_all or row.Calendar.person_id == person_id
    ]


def revoke_calendar(
    garden_id: str, calendar_id: str, person_id: str, *, of_all: bool, at_ms: int
) -> bool:
    """Shut an address; False when it is not there, or is another person's to shut."""
    with writing() as session:
        asked = select(Calendar).where(Calendar.garden_id == garden_id, Calendar.id == calendar_id)
        found = session.scalars(asked).one_or_none()
        if found is None or not (of_all or found.person_id == person_id):
            return False
        if found.revoked_at_ms is None:
            found.revoked_at_ms = at_ms
    return True


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
