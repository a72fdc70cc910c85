"""One request of a phone: take in what it sends, answer with what it does not have yet."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from shedbook.records.engine import writing
from shedbook.records.entries import entries_after
from shedbook.records.gardens import get_garden, lock_garden
from shedbook.records.models import Device, Garden, Person, db
from shedbook.records.notebooks import DeviceState, NotebookState, notebook_state, present_devices
from shedbook.records.people import Paired, people_of
from shedbook.sync.accept import Answer, accept_batch
from shedbook.sync.envelope import read_entry

# A phone that only asks for news is written down as heard at most this often.
HEARD_EVERY_MS = 60_000


@dataclass(frozen=True)
class Request:
    """What a phone sends: its next entries, and how far it has read the log."""

    notebook: str
    entries: Sequence[Any]
    cursor: int
    epoch: str | None
    waiting: int
    page: int
    given_up: Sequence[int] = ()


@dataclass(frozen=True)
class Exchange:
    """What the phone gets back. `entries` are JSON texts, in the order of the log."""

    answers: list[Answer]
    notebook: NotebookState
    entries: list[str]
    cursor: int
    head: int
    epoch: str
    devices: list[DeviceState]
    people: list[Person]


def exchange(paired: Paired, request: Request, now_ms: int) -> Exchange:
    """Store first, then read: the phone sees its own entries come back in the log."""
    answers = _push(paired, request, now_ms)
    session = db.session()
    garden = get_garden(session, paired.garden_id)
    cursor = _start(garden, request)
    entries = entries_after(session, garden.id, cursor, request.page)
    reached = cursor + len(entries)
    return Exchange(
        answers=answers,
        notebook=notebook_state(session, garden.id, request.notebook),
        entries=entries,
        cursor=reached,
        # On PostgreSQL a page may hold entries that came after the head was read.
        head=max(garden.head, reached),
        epoch=garden.epoch,
        devices=present_devices(session, garden.id),
        people=people_of(garden.id),
    )


def _push(paired: Paired, request: Request, now_ms: int) -> list[Answer]:
    # Read outside the transaction: the checks are most of the work and need nothing of the store.
    batch = [read_entry(raw, paired.garden_id, request.notebook, now_ms) for raw in request.entries]
    if not batch and not request.given_up and not _is_news(paired, request, now_ms):
        return []
    with writing() as session:
        garden = lock_garden(session, paired.garden_id)
        answers = accept_batch(
            session,
            garden,
            paired,
            request.notebook,
            batch,
            now_ms,
            given_up=request.given_up,
        )
        device = _device(session, paired.device_id)
        device.heard_at_ms = now_ms
        device.waiting = request.waiting
    return answers


def _is_news(paired: Paired, request: Request, now_ms: int) -> bool:
    device = _device(db.session(), paired.device_id)
    heard = device.heard_at_ms
    return heard is None or now_ms - heard > HEARD_EVERY_MS or device.waiting != request.waiting


def _device(session: Session, device_id: str) -> Device:
    return session.scalars(
        select(Device).where(Device.id == device_id).execution_options(populate_existing=True)
    ).one()


def _start(garden: Garden, request: Request) -> int:
    """Where to read on. After a restore the phone's place means nothing, and it starts again;
    a place above the head comes from a store that was put back without saying so.
    """
    is_other_epoch = request.epoch is not None and request.epoch != garden.epoch
    return 0 if is_other_epoch or request.cursor > garden.head else request.cursor
