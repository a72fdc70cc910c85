"""One request of a phone: take in what it sends, answer with what it does not have yet."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, cast

from sqlalchemy import Table, bindparam, update

from shedbook.records.engine import writing
from shedbook.records.gardens import LogEnd, lock_garden
from shedbook.records.models import Device, db
from shedbook.records.notebooks import (
    DeviceState,
    NotebookState,
    surroundings_of,
)
from shedbook.records.people import Named, Paired
from shedbook.records.refusals import CannotWrite
from shedbook.sync.accept import Answer, accept_batch
from shedbook.sync.envelope import Readable, Unreadable, read_entry

_devices = Device.__table__.c
_HEARD = (
    update(cast(Table, Device.__table__))
    .where(_devices.id == bindparam("device"))
    .values(heard_at_ms=bindparam("now_ms"), waiting=bindparam("waits"))
)
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
    given_up: Sequence[int] = ()


@dataclass(frozen=True)
class Exchange:
    """What the phone gets back, but for the log, which it reads on from `cursor`."""

    answers: list[Answer]
    notebook: NotebookState
    cursor: int
    head: int
    epoch: str
    devices: list[DeviceState]
    people: list[Named]


def exchange(paired: Paired, request: Request, now_ms: int) -> Exchange:
    """Store first, so that the phone sees its own entries come back in the log."""
    answers: list[Answer] = []
    if request.entries or request.given_up:
        answers = _push(paired, request, now_ms)
    session = db.session()
    around = surroundings_of(session, paired.garden_id, request.notebook)
    if _is_news(around.devices, paired, request, now_ms):
        # When a phone was heard is worth less than what it came for.
        with suppress(CannotWrite):
            _store(paired, request, [], now_ms)
            around = surroundings_of(session, paired.garden_id, request.notebook)
    return Exchange(
        answers=answers,
        notebook=around.notebook,
        cursor=_start(around.log, request),
        head=around.log.head,
        epoch=around.log.epoch,
        devices=around.present_devices(),
        people=around.people,
    )


def _push(paired: Paired, request: Request, now_ms: int) -> list[Answer]:
    # Read outside the transaction: the checks are most of the work and need nothing of the store.
    batch = [read_entry(raw, paired.garden_id, request.notebook, now_ms) for raw in request.entries]
    return _store(paired, request, batch, now_ms)


def _store(
    paired: Paired, request: Request, batch: Sequence[Readable | Unreadable], now_ms: int
) -> list[Answer]:
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
        heard = {"device": paired.device_id, "now_ms": now_ms, "waits": request.waiting}
        session.execute(_HEARD, heard)
    return answers


def _is_news(devices: Sequence[DeviceState], paired: Paired, request: Request, now_ms: int) -> bool:
    """Whether what is written down of the asking device is old, or another than it says now."""
    return any(
        one.heard_at_ms is None
        or now_ms - one.heard_at_ms > HEARD_EVERY_MS
        or one.waiting != request.waiting
        for one in devices
        if one.id == paired.device_id
    )


def _start(garden: LogEnd, request: Request) -> int:
    """Where to read on. After a restore the phone's place means nothing, and it starts again;
    a place above the head comes from a store that was put back without saying so.
    """
    is_other_epoch = request.epoch is not None and request.epoch != garden.epoch
    return 0 if is_other_epoch or request.cursor > garden.head else request.cursor
