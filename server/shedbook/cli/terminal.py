"""The shed's own notebook: what is written at the terminal goes the way that phones' entries go."""

import secrets
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import func, select

from shedbook.cli.opening import ChosenGarden
from shedbook.keeping.take_in import Draft
from shedbook.log.clock import FIRST_CLOCK, tick
from shedbook.log.identity import RANDOM_BYTES, new_id
from shedbook.log.kinds import KINDS
from shedbook.records.models import Device, Entry, Garden, Notebook, Person, db
from shedbook.records.people import (
    PHONE_CODE_LIFETIME_S,
    Paired,
    invite,
    paired_as,
    spend_invitation,
)
from shedbook.sync.accept import Answer
from shedbook.sync.exchange import Request, exchange

DEVICE_NAME = "Terminal of the shed"
ROLE = "lead"


def terminal_of(garden: ChosenGarden, lead: str) -> Paired:
    """The terminal as a paired device of the garden's lead; paired at its first use."""
    row = db.session.execute(
        select(Device, Person, Garden)
        .join(Person, Person.id == Device.person_id)
        .join(Garden, Garden.id == Device.garden_id)
        .where(
            Device.garden_id == garden.id,
            Device.name == DEVICE_NAME,
            Device.revoked_at_ms.is_(None),
            Person.role == ROLE,
        )
        .order_by(Device.created_at_ms)
        .limit(1)
    ).one_or_none()
    if row is None:
        code = invite(garden.id, ROLE, lead, PHONE_CODE_LIFETIME_S).code
        # Whoever runs this program can read the whole store, so its secret guards nothing.
        return spend_invitation(code, DEVICE_NAME)[0]
    return paired_as(*row)


def draft_entry(
    terminal: Paired,
    kind: str,
    subjects: Mapping[str, Any],
    details: Mapping[str, Any],
    happened_at: datetime,
    at_ms: int,
) -> dict[str, Any]:
    """The next entry of the terminal's notebook, above every clock that the log has seen."""
    return draft_entries(terminal, [Draft(kind, subjects, details, happened_at)], at_ms)[0]


def draft_entries(terminal: Paired, drafts: Sequence[Draft], at_ms: int) -> list[dict[str, Any]]:
    """The next entries, one after the other."""
    notebook, number = _next_place(terminal, at_ms)
    seen = db.session.scalar(
        select(func.max(Entry.order)).where(Entry.garden_id == terminal.garden_id)
    )
    clock = seen or FIRST_CLOCK
    recorded_at = datetime.fromtimestamp(at_ms // 1000, ZoneInfo(terminal.zone))
    entries = []
    for place, draft in enumerate(drafts):
        clock = tick(clock, at_ms)
        entry = {
            "id": new_id(at_ms, secrets.token_bytes(RANDOM_BYTES)),
            "garden": terminal.garden_id,
            "notebook": notebook,
            "number": number + place,
            "kind": draft.kind,
            "version": KINDS[draft.kind].version,
            "subjects": dict(draft.subjects),
            "happened_at": draft.happened_at.isoformat(timespec="seconds"),
            "recorded_at": recorded_at.isoformat(timespec="seconds"),
            "clock": clock,
            "device": terminal.device_id,
            "person": terminal.person_id,
            "details": dict(draft.details),
        }
        entries.append(entry)
    return entries


def send_entry(terminal: Paired, entry: Mapping[str, Any], at_ms: int) -> Answer:
    """Offer the entry as a phone would, and hear what became of it."""
    request = Request(entry["notebook"], [entry], cursor=0, epoch=None, waiting=0)
    return exchange(terminal, request, at_ms).answers[0]


def _next_place(terminal: Paired, at_ms: int) -> tuple[str, int]:
    row = db.session.execute(
        select(Notebook.id, Notebook.highest)
        .where(Notebook.garden_id == terminal.garden_id, Notebook.device_id == terminal.device_id)
        .order_by(Notebook.highest.desc(), Notebook.id)
        .limit(1)
    ).one_or_none()
    if row is None:
        return new_id(at_ms, secrets.token_bytes(RANDOM_BYTES)), 1
    return row.id, row.highest + 1
