"""Gardens and their locks."""

import uuid
from typing import NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy import bindparam, select
from sqlalchemy.orm import Session

from shedbook.log.ledger import Ledger
from shedbook.log.telling import GARDEN_KINDS
from shedbook.records.asked import Asked
from shedbook.records.engine import now_ms, writing
from shedbook.records.entries import entries_of_subjects
from shedbook.records.models import Garden, db

_LOCKED = Asked(
    lambda _: (
        select(Garden)
        .where(Garden.id == bindparam("garden"))
        .with_for_update()
        .execution_options(populate_existing=True)
    )
)


class GardenNotFound(Exception):
    """No garden has this id."""


class LogEnd(NamedTuple):
    """The number of the newest entry of a log, and which log that is."""

    head: int
    epoch: str


def create_garden(name: str, zone: str, *, at_ms: int | None = None) -> Garden:
    """Make an empty garden and store it; `zone` is an IANA name such as Europe/Madrid."""
    garden = Garden(
        id=str(uuid.uuid4()),
        name=name,
        zone=zone,
        head=0,
        epoch=str(uuid.uuid4()),
        created_at_ms=now_ms() if at_ms is None else at_ms,
    )
    with writing() as session:
        session.add(garden)
    return garden


def all_gardens() -> list[Garden]:
    """Every garden of this store, the oldest first."""
    return list(db.session.scalars(select(Garden).order_by(Garden.created_at_ms, Garden.id)))


def get_garden(session: Session, garden_id: str) -> Garden:
    """The garden as it is now; raises GardenNotFound."""
    found = session.scalars(
        select(Garden).where(Garden.id == garden_id).execution_options(populate_existing=True)
    ).one_or_none()
    if found is None:
        raise GardenNotFound(garden_id)
    return found


def lock_garden(session: Session, garden_id: str) -> Garden:
    """The garden, with its row held until the transaction ends: its writers go one by one."""
    found: Garden | None = _LOCKED(session, garden=garden_id).scalar_one_or_none()
    if found is None:
        raise GardenNotFound(garden_id)
    return found


def follow_settings(session: Session, garden: Garden) -> None:
    """Take the garden's name and zone from its log, which may have changed them."""
    ledger = Ledger()
    ledger.add(
        entries_of_subjects(session, garden.id, [], [], garden_wide=True, kinds=GARDEN_KINDS)
    )
    settings = ledger.settings()
    garden.name = settings.get("name") or garden.name
    zone = settings.get("zone")
    if zone and is_zone(zone):
        garden.zone = zone


def is_zone(name: str) -> bool:
    """Whether this machine knows the zone: else its days could not be told."""
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def start_new_epoch(garden_id: str) -> str:
    """After a restore: every phone pulls again from the start and sends what the shed lost."""
    with writing() as session:
        garden = lock_garden(session, garden_id)
        garden.epoch = str(uuid.uuid4())
    return garden.epoch
