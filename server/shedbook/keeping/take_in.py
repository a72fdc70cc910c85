"""Brings drafted entries into the log as a phone would, but all of them or none."""

import hashlib
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from shedbook.keeping.progress import Progress, say_nothing
from shedbook.log.content import canonical
from shedbook.log.identity import new_id
from shedbook.records.engine import writing
from shedbook.records.entries import known_entries
from shedbook.records.gardens import lock_garden
from shedbook.records.people import Paired
from shedbook.sync.accept import accept_batch
from shedbook.sync.envelope import read_entry

BATCH = 500


class NotTakenIn(Exception):
    """One of the entries was not accepted, so none was stored."""


@dataclass(frozen=True)
class Draft:
    """What is to be written, before it has a number."""

    kind: str
    subjects: Mapping[str, Any]
    details: Mapping[str, Any]
    happened_at: datetime


def ids_of(garden_id: str, drafts: Sequence[Draft]) -> list[str]:
    """An id for each that follows from what it says, so the same table twice is no second log.

    Rows that say the same are told apart by how often they came before.
    """
    met: Counter[bytes] = Counter()
    ids = []
    for draft in drafts:
        said = canonical(
            {
                "garden": garden_id,
                "kind": draft.kind,
                "subjects": dict(draft.subjects),
                "details": dict(draft.details),
                "happened_at": draft.happened_at.isoformat(),
            }
        )
        met[said] += 1
        digest = hashlib.sha256(said + str(met[said]).encode()).digest()
        ids.append(new_id(int(draft.happened_at.timestamp() * 1000), digest))
    return ids


def ids_in_log(session: Session, garden_id: str, ids: Sequence[str]) -> set[str]:
    """Those of the ids that the log has."""
    found: set[str] = set()
    for start in range(0, len(ids), BATCH):
        found |= set(known_entries(session, garden_id, ids[start : start + BATCH]))
    return found


def take_in(
    paired: Paired,
    entries: Sequence[dict[str, Any]],
    at_ms: int,
    show: Progress = say_nothing,
) -> None:
    """Store entries of one notebook, in one transaction. Raises NotTakenIn."""
    with writing() as session:
        garden = lock_garden(session, paired.garden_id)
        for start in range(0, len(entries), BATCH):
            batch = entries[start : start + BATCH]
            notebook = batch[0]["notebook"]
            read = [read_entry(entry, garden.id, notebook, at_ms) for entry in batch]
            for answer in accept_batch(session, garden, paired, notebook, read, at_ms):
                if answer.result != "accepted":
                    told = [text for texts in answer.problems.values() for text in texts]
                    raise NotTakenIn(" ".join([*told, answer.hint or answer.result]))
            show(start + len(batch), len(entries))
