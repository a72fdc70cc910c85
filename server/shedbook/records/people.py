"""People, their devices, and the one-time codes that make a device of a person."""

import hashlib
import secrets
import uuid
from dataclasses import dataclass
from typing import NamedTuple

from sqlalchemy import bindparam, select, update
from sqlalchemy.orm import Session

from shedbook.records.asked import Asked
from shedbook.records.engine import now_ms, writing
from shedbook.records.gardens import lock_garden
from shedbook.records.models import Device, Garden, Invitation, Person, db

ROLES = ("lead", "helper", "reader")
PHONE_CODE_LIFETIME_S = 10 * 60
LEAD_LINK_LIFETIME_S = 24 * 60 * 60

# No 0 and O, no 1 and I: the code is read from one screen and typed on another.
CODE_ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
CODE_LENGTH = 8
SECRET_BYTES = 32

_people = Person.__table__.c
_PEOPLE = Asked(
    lambda _: (
        select(_people.id, _people.name, _people.role)
        .where(_people.garden_id == bindparam("garden"))
        .order_by(_people.name)
    )
)
_CALLER = Asked(
    lambda _: (
        select(Device, Person, Garden)
        .join(Person, Person.id == Device.person_id)
        .join(Garden, Garden.id == Device.garden_id)
        .where(Device.secret_hash == bindparam("secret"))
    )
)


class NameTaken(Exception):
    """A person of this name is in the garden already, in another role."""


class InvitationInvalid(Exception):
    """No invitation has this code, or it has expired, or it was spent."""


@dataclass(frozen=True)
class Invited:
    """An invitation as its maker sees it, once: the code is stored nowhere."""

    code: str
    person_id: str
    expires_at_ms: int


class Named(NamedTuple):
    """A person of a garden."""

    id: str
    name: str
    role: str


@dataclass(frozen=True)
class Paired:
    """Who is asking: a device, its person, and the one garden both belong to."""

    garden_id: str
    garden_name: str
    zone: str
    device_id: str
    device_name: str
    person_id: str
    person_name: str
    role: str
    is_revoked: bool = False


def invite(
    garden_id: str, role: str, name: str, lifetime_s: int, *, at_ms: int | None = None
) -> Invited:
    """Invite a person by name; the code pairs one device of theirs. Raises NameTaken.

    Whoever has the name already in that role gets one more device. A code that lives longer than
    a phone code is long, since a short one could be guessed in that time.
    """
    at = now_ms() if at_ms is None else at_ms
    code = _short_code() if lifetime_s <= PHONE_CODE_LIFETIME_S else _secret()
    with writing() as session:
        # Two who invite the same new person at once would each make one.
        lock_garden(session, garden_id)
        person = _person_named(session, garden_id, name, role)
        session.add(
            Invitation(
                code_hash=_hash(code),
                garden_id=garden_id,
                person_id=person.id,
                expires_at_ms=at + lifetime_s * 1000,
            )
        )
    return Invited(code, person.id, at + lifetime_s * 1000)


def pairing_link(origin: str, code: str) -> str:
    """The address that spends the code; it stands in the fragment, which no server logs."""
    return f"{origin}/#/join/{code}"


def spend_invitation(
    code: str, device_name: str, *, at_ms: int | None = None
) -> tuple[Paired, str]:
    """Pair a device: who it now is, and its secret, told this once. Raises InvitationInvalid."""
    at = now_ms() if at_ms is None else at_ms
    secret = _secret()
    with writing() as session:
        spent = session.execute(
            update(Invitation)
            .where(
                Invitation.code_hash == _hash(_as_made(code)),
                Invitation.spent_at_ms.is_(None),
                Invitation.expires_at_ms > at,
            )
            .values(spent_at_ms=at)
            .returning(Invitation.garden_id, Invitation.person_id)
        ).one_or_none()
        if spent is None:
            raise InvitationInvalid
        device = Device(
            id=str(uuid.uuid4()),
            garden_id=spent.garden_id,
            person_id=spent.person_id,
            name=device_name,
            secret_hash=_hash(secret),
            created_at_ms=at,
            waiting=0,
        )
        session.add(device)
    paired = find_paired(secret)
    assert paired is not None, "the device was stored in the transaction above"
    return paired, secret


def find_paired(secret: str) -> Paired | None:
    """Whose secret this is; a revoked device is found too, and says so."""
    row = _CALLER(db.session(), secret=_hash(secret)).one_or_none()
    if row is None:
        return None
    return paired_as(*row)


def paired_as(device: Device, person: Person, garden: Garden) -> Paired:
    """What the rest of the shed needs to know of a device and whose it is."""
    return Paired(
        garden_id=garden.id,
        garden_name=garden.name,
        zone=garden.zone,
        device_id=device.id,
        device_name=device.name,
        person_id=person.id,
        person_name=person.name,
        role=person.role,
        is_revoked=device.revoked_at_ms is not None,
    )


def revoke_device(garden_id: str, device_id: str, *, at_ms: int | None = None) -> bool:
    """Take a device's access away; False when the garden has no such device."""
    with writing() as session:
        device = session.scalars(
            select(Device).where(Device.garden_id == garden_id, Device.id == device_id)
        ).one_or_none()
        if device is None:
            return False
        if device.revoked_at_ms is None:
            device.revoked_at_ms = now_ms() if at_ms is None else at_ms
    return True


def people_of(garden_id: str) -> list[Named]:
    """Everyone who was ever invited to the garden, by name."""
    return [Named(*row) for row in _PEOPLE(db.session(), garden=garden_id)]


def _person_named(session: Session, garden_id: str, name: str, role: str) -> Person:
    found = session.scalars(
        select(Person).where(Person.garden_id == garden_id, Person.name == name)
    ).one_or_none()
    if found is None:
        found = Person(id=str(uuid.uuid4()), garden_id=garden_id, name=name, role=role)
        session.add(found)
        session.flush()
    elif found.role != role:
        raise NameTaken(f"{name} is in this garden as {found.role}.")
    return found


def _as_made(code: str) -> str:
    """A typed phone code may come in small letters, or in groups."""
    plain = code.replace(" ", "").replace("-", "").upper()
    return plain if len(plain) == CODE_LENGTH else code


def _short_code() -> str:
    return "".join(secrets.choice(CODE_ALPHABET) for _ in range(CODE_LENGTH))


def _secret() -> str:
    return secrets.token_urlsafe(SECRET_BYTES)


def _hash(secret: str) -> str:
    # A plain hash is enough: what it hides is random, or lives for ten minutes behind a limit.
    return hashlib.sha256(secret.encode("utf-8", "surrogatepass")).hexdigest()
