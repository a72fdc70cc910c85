"""Writes drafts down as entries: the ids, numbers and clocks that a phone would give them."""

import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from seed_demo.draft import Draft, Ref
from shedbook.log.clock import FIRST_CLOCK, tick
from shedbook.log.identity import RANDOM_BYTES, new_id

Entry = dict[str, Any]


@dataclass(frozen=True)
class Identity:
    """Who writes into a notebook: what pairing gave the phone."""

    garden: str
    device: str
    person: str


@dataclass
class Notebook:
    """One phone's numbered entries."""

    identity: Identity
    zone: ZoneInfo
    chance: random.Random
    id: str = ""
    clock: str = FIRST_CLOCK
    entries: list[Entry] = field(default_factory=list)

    def write(self, draft: Draft, ids: dict[str, str]) -> Entry:
        """Append the draft as an entry; `ids` says what labels stand for, and learns new ones."""
        happened = draft.at.replace(tzinfo=self.zone)
        recorded = (draft.at + timedelta(seconds=self.chance.randrange(20, 200))).replace(
            tzinfo=self.zone
        )
        now_ms = int(recorded.timestamp()) * 1000 + self.chance.randrange(1000)
        self.clock = tick(self.clock, now_ms)
        if not self.id:
            self.id = new_id(now_ms, self.chance.randbytes(RANDOM_BYTES))
        entry_id = new_id(now_ms, self.chance.randbytes(RANDOM_BYTES))
        if draft.label is not None and draft.label not in ids:
            ids[draft.label] = entry_id
        entry: Entry = {
            "id": entry_id,
            "garden": self.identity.garden,
            "notebook": self.id,
            "number": len(self.entries) + 1,
            "kind": draft.kind,
            "version": 1,
            "subjects": _subjects(draft, ids),
            "happened_at": _moment_text(happened),
            "recorded_at": _moment_text(recorded),
            "clock": self.clock,
            "device": self.identity.device,
            "person": self.identity.person,
            "details": _resolved(draft.details, ids),
        }
        self.entries.append(entry)
        return entry


def write_notebooks(
    drafts: Iterable[Draft],
    identities: Mapping[str, Identity],
    zone: str,
) -> dict[str, Notebook]:
    """All drafts in the order in which they happened, each in the notebook of its phone."""
    chance = random.Random("notebooks of wrenhollow")
    notebooks = {
        phone: Notebook(identity, ZoneInfo(zone), chance) for phone, identity in identities.items()
    }
    ids: dict[str, str] = {}
    # Sorted is stable: drafts of the same minute stay in the order in which they were made.
    for draft in sorted(drafts, key=lambda each: each.at):
        notebooks[draft.phone].write(draft, ids)
    return notebooks


def _subjects(draft: Draft, ids: Mapping[str, str]) -> dict[str, Any]:
    subjects: dict[str, Any] = {}
    if draft.bed is not None:
        subjects["bed"] = ids[draft.bed]
    if draft.planting is not None:
        subjects["planting"] = ids[draft.planting]
    if draft.plants:
        subjects["plants"] = list(draft.plants)
    return subjects


def _resolved(value: Any, ids: Mapping[str, str]) -> Any:
    if isinstance(value, Ref):
        return ids[value.name]
    if isinstance(value, dict):
        return {key: _resolved(item, ids) for key, item in value.items()}
    if isinstance(value, list):
        return [_resolved(item, ids) for item in value]
    return value


def _moment_text(moment: datetime) -> str:
    return moment.isoformat(timespec="seconds")
