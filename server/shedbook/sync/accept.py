"""Decides about each entry of a batch by itself, and stores what is new."""

import json
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any, NamedTuple

from sqlalchemy.orm import Session

from shedbook.log.clock import order_of
from shedbook.log.telling import MENDING_KINDS
from shedbook.records.entries import (
    KnownEntry,
    NewEntry,
    columns_of,
    makes_wait,
    root_of,
)
from shedbook.records.models import Garden, SetAside
from shedbook.records.notebooks import NOTHING_KEPT
from shedbook.records.people import Paired
from shedbook.sync.batch_store import BatchStore, read_store, write_store
from shedbook.sync.envelope import Readable, Texts, Unreadable
from shedbook.sync.permission import (
    refusal_of_changing_crop,
    refusal_of_deciding,
    refusal_of_mending,
    refusal_of_sender,
    writes_at_all,
)

HINT_SET_ASIDE = "It is kept at the shed as it came. Mend it with a new entry that names it."
HINT_CONFLICT = "An entry is never rewritten. Send the change as a correction."
HINT_FORKED = "Open a new notebook and send it again under a new number."
HINT_REFUSED = "It stays on this device, where it can be mended or exported."


class Answer(NamedTuple):
    """What became of one entry: accepted, known, set_aside, refused or forked."""

    id: str | None
    number: int | None
    result: str
    seq: int | None = None
    order: str | None = None
    remarks: Mapping[str, list[str]] = MappingProxyType({})
    problems: Mapping[str, list[str]] = MappingProxyType({})
    hint: str | None = None


def accept_batch(
    session: Session,
    garden: Garden,
    paired: Paired,
    notebook_id: str,
    batch: Sequence[Readable | Unreadable],
    received_ms: int,
    *,
    given_up: Sequence[int] = (),
) -> list[Answer]:
    """Take in a batch within the transaction that holds the garden's lock.

    Each entry is answered alone and none stands in the way of another. The same batch again, whole
    or in pieces, changes nothing and is answered with what was decided the first time. The numbers
    `given_up` will come under no entry, and count as arrived.
    """
    store = read_store(session, garden.id, paired, notebook_id, batch, given_up)
    next_seq = garden.head + 1
    answers = [
        _decide(store, paired, item, next_seq + len(store.new), received_ms) for item in batch
    ]
    # Who may only read has nothing to give up, and a notebook goes over by writing on in it.
    writes_in_it = store.is_notebook_own or (store.new and not store.is_notebook_foreign)
    if notebook_id and writes_at_all(paired) and writes_in_it:
        for number in given_up:
            _arrive(store, number, NOTHING_KEPT)
    if store.newly_arrived:
        write_store(session, garden, paired, notebook_id, store)
    return answers


def _decide(
    store: BatchStore, paired: Paired, item: Readable | Unreadable, seq: int, received_ms: int
) -> Answer:
    if isinstance(item, Unreadable):
        return Answer(item.id, item.number, "refused", problems=item.problems, hint=HINT_REFUSED)
    met = _meet_again(store, item)
    if met is not None:
        return met
    if store.is_notebook_foreign or (store.arrived.get(item.number) or item.id) != item.id:
        return Answer(item.id, item.number, "forked", hint=HINT_FORKED)
    if refusal := refusal_of_sender(paired, item.entry):
        return _refuse(store, paired, item, refusal)
    if problems := item.problems or _problems_of_mending(store, item.entry):
        return _put_aside(store, paired, item, problems, received_ms)
    if refusal := refusal_of_deciding(paired, item.entry):
        return _refuse(store, paired, item, refusal)
    if refusal := refusal_of_changing_crop(paired, item.entry):
        return _refuse(store, paired, item, refusal)
    if refusal := refusal_of_mending(paired, item.entry, store.known, store.set_aside):
        return _refuse(store, paired, item, refusal)
    return _take_in(store, paired, item, seq, received_ms)


def _refuse(store: BatchStore, paired: Paired, item: Readable, refusal: Texts) -> Answer:
    """Nothing of it is kept, but its number has been seen: it is no loss that must be told.

    Of who may only read nothing is kept at all, not even that.
    """
    if writes_at_all(paired):
        _arrive(store, item.number, NOTHING_KEPT)
    return Answer(item.id, item.number, "refused", problems=refusal, hint=HINT_REFUSED)


def _meet_again(store: BatchStore, item: Readable) -> Answer | None:
    """The answer to an entry whose id has been seen; the same content is success."""
    known, aside = store.known.get(item.id), store.set_aside.get(item.id)
    seen = known or aside
    if seen is None:
        return None
    if seen.content_hash != item.content_hash:
        problems = {"id": ["Another entry with other content has this id."]}
        return Answer(item.id, item.number, "refused", problems=problems, hint=HINT_CONFLICT)
    # An entry renumbered after a fork arrives under its new number too.
    if not store.is_notebook_foreign:
        _arrive(store, item.number, item.id)
    if known is not None:
        remarks = dict(known.remarks)
        return Answer(item.id, item.number, "known", known.seq, known.order, remarks)
    assert aside is not None
    problems = json.loads(aside.problems)
    return Answer(item.id, item.number, "set_aside", problems=problems, hint=HINT_SET_ASIDE)


def _take_in(
    store: BatchStore, paired: Paired, item: Readable, seq: int, received_ms: int
) -> Answer:
    entry = item.entry
    columns = columns_of(entry)
    order = order_of(entry["clock"], received_ms)
    remarks = item.remarks | _remarks_on_references(store, entry, columns)
    brought_by = paired.device_id
    store.new.append(
        NewEntry(columns, item.content_hash, item.body, order, received_ms, remarks, brought_by)
    )
    waits = makes_wait(entry)
    store.known[item.id] = KnownEntry(
        item.id, seq, order, entry["kind"], entry["person"], item.content_hash, remarks, waits
    )
    root = store.known.get(columns["root_id"] or "")
    if root is not None and waits:
        store.known[root.id] = root._replace(makes_wait=True)
    mended = store.set_aside.get(entry.get("mends", ""))
    if mended is not None and mended.mended_by is None:
        mended.mended_by = item.id
    _arrive(store, item.number, item.id)
    return Answer(item.id, item.number, "accepted", seq, order, remarks)


def _put_aside(
    store: BatchStore, paired: Paired, item: Readable, problems: Texts, received_ms: int
) -> Answer:
    row = SetAside(
        entry_id=item.id,
        notebook_id=item.entry["notebook"],
        number=item.number,
        person_id=paired.person_id,
        content_hash=item.content_hash,
        # ASCII: what made it unfit for the log may be a character that no column can hold.
        raw=json.dumps(item.entry),
        problems=json.dumps(problems),
        received_at_ms=received_ms,
        mended_by=None,
    )
    store.aside.append(row)
    store.set_aside[item.id] = row
    _arrive(store, item.number, item.id)
    return Answer(item.id, item.number, "set_aside", problems=problems, hint=HINT_SET_ASIDE)


def _arrive(store: BatchStore, number: int, entry_id: str) -> None:
    """A number arrives once; one under which nothing is kept may still get its entry."""
    known = store.arrived.get(number)
    if known is None or (known == NOTHING_KEPT and entry_id != NOTHING_KEPT):
        store.arrived[number] = entry_id
        store.newly_arrived[number] = entry_id


def _problems_of_mending(store: BatchStore, entry: Mapping[str, Any]) -> Texts:
    """A correction names the entry that was first written, and says its kind rightly."""
    root_id = root_of(entry)
    root = store.known.get(root_id) if root_id else None
    if root is None:
        return {}
    if root.kind in MENDING_KINDS:
        return {"details.entry": ["Must name the entry first written, not one that mends it."]}
    if entry["kind"] == "correct" and entry["details"].get("kind") != root.kind:
        return {"details.kind": [f"Must be {root.kind}, the kind of the entry that it corrects."]}
    return {}


def _remarks_on_references(
    store: BatchStore, entry: Mapping[str, Any], columns: Mapping[str, Any]
) -> Texts:
    """What the entry names and the log does not hold yet: noted, since it may still arrive."""
    remarks: Texts = {}
    for slot in ("bed", "planting"):
        named = columns[f"{slot}_id"]
        if named is None or (named == entry["id"] and entry["kind"] == slot):
            continue
        made = store.known.get(named)
        if made is None or made.kind != slot:
            remarks[f"subjects.{slot}"] = [f"No {slot} with this id is in the log."]
    root_id = columns["root_id"]
    if root_id and root_id not in store.known:
        remarks["details.entry"] = ["No entry with this id is in the log."]
    mends = entry.get("mends")
    if mends and mends not in store.set_aside:
        remarks["mends"] = ["No entry with this id was set aside."]
    return remarks
