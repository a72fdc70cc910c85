"""The log: adding rows to it, and reading pages and bed groups of it."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, cast

from sqlalchemy import (
    ColumnElement,
    CompoundSelect,
    Row,
    Select,
    Table,
    and_,
    bindparam,
    func,
    select,
    true,
    union,
    union_all,
)
from sqlalchemy.orm import Session

from shedbook.log.identity import is_id_again
from shedbook.log.moment import parse_day
from shedbook.log.telling import MENDING_KINDS
from shedbook.records.asked import Asked
from shedbook.records.models import Entry, Garden, SetAside
from shedbook.records.rows import add_rows
from shedbook.rules.long_ago import topic_of

_LOG = cast(Table, Entry.__table__)
# Of the bodies in one page. A page of usual entries is a quarter of it; one of the largest is cut.
PAGE_BYTES = 4_000_000
# A database elsewhere hands over so many rows at a time: the rest of a cut page stays there.
_FETCHED = 200
_DATE_LENGTH = len("2026-06-01")
# What the shed adds to an entry; a phone that sends an entry back has no say in it.
STORED_KEYS = frozenset({"seq", "order", "received_at"})

_log = _LOG.c
_KNOWN = Asked(
    lambda among: select(
        _log.id,
        _log.seq,
        _log.order,
        _log.kind,
        _log.person_id,
        _log.content_hash,
        _log.remarks,
    ).where(_log.garden_id == bindparam("garden"), among(_log.id, "ids"))
)
_PLACES = select(_log.bed_id, _log.planting_id, _log.garden_wide).where(
    _log.garden_id == bindparam("garden")
)
_PLACES_OF_IDS = Asked(lambda among: _PLACES.where(among(_log.id, "ids")))
_PLACES_OF_MENDING = Asked(lambda among: _PLACES.where(among(_log.root_id, "roots")))
_STAYS = select(_log.planting_id, _log.bed_id).where(
    _log.garden_id == bindparam("garden"), _log.kind.in_(("planting", "transplant", "correct"))
)
# That both are named is asked of what comes back: as a condition, SQLite would search by it, and
# so read all plantings of the garden.
_STAYS_NEAR = Asked(
    lambda among: union(
        _STAYS.where(among(_log.bed_id, "beds")),
        _STAYS.where(among(_log.planting_id, "plantings")),
    )
)
_PAGE = Asked(
    lambda _: (
        select(_log.body, _log.seq, _log.order, _log.received_at_ms, _log.id)
        .where(_log.garden_id == bindparam("garden"), _log.seq > bindparam("cursor"))
        .order_by(_log.seq)
        .limit(bindparam("limit"))
        .execution_options(yield_per=_FETCHED)
    )
)
_ID_AT = Asked(
    lambda _: select(_log.id).where(
        _log.garden_id == bindparam("garden"), _log.seq == bindparam("seq")
    )
)


class NewEntry(NamedTuple):
    """An entry on its way into the log, with what acceptance has found out about it.

    `columns` is what `columns_of` says of it.
    """

    columns: Mapping[str, Any]
    content_hash: str
    body: str
    order: str
    received_at_ms: int
    remarks: Mapping[str, list[str]]
    brought_by: str


class KnownEntry(NamedTuple):
    """The few columns by which acceptance recognises an entry that it meets again."""

    id: str
    seq: int
    order: str
    kind: str
    person_id: str
    content_hash: str
    remarks: Mapping[str, list[str]]
    # It keeps others from work or from picking, or has done so in some restatement.
    makes_wait: bool = False


@dataclass(frozen=True)
class Scope:
    """What a set of entries touches: beds, plantings, or the whole garden."""

    beds: frozenset[str]
    plantings: frozenset[str]
    garden_wide: bool


def root_of(entry: Mapping[str, Any]) -> str | None:
    """The entry that a `correct` or `void` is about; None for every other kind."""
    if entry["kind"] not in MENDING_KINDS:
        return None
    return _id(entry["details"].get("entry"))


def subject_of(entry: Mapping[str, Any], slot: str) -> str | None:
    """The bed or planting that an entry names. A kind that this version does not know is kept
    unchecked, so what stands there may be anything.
    """
    return _id(entry["subjects"].get(slot))


def makes_wait(entry: Mapping[str, Any]) -> bool:
    """Is it a treatment, raw manure in the soil, or a correction that says so?"""
    kind, details = entry["kind"], entry["details"]
    if kind == "correct":
        kind, details = details.get("kind"), details.get("restated")
    if kind == "treat":
        return True
    return kind == "feed" and isinstance(details, Mapping) and details.get("origin") == "raw_manure"


def append_entries(session: Session, garden: Garden, new: Sequence[NewEntry]) -> list[int]:
    """Store the entries and give them the garden's next numbers, without a gap.

    The garden must be locked by this transaction: a number is taken and its row stored together,
    so a reader that has seen number 9 has seen every lower one.
    """
    if not new:
        return []
    first = garden.head + 1
    rows = [_row(garden.id, first + place, item) for place, item in enumerate(new)]
    add_rows(session, _LOG, rows)
    garden.head += len(rows)
    session.flush()
    return list(range(first, first + len(rows)))


def known_entries(session: Session, garden_id: str, ids: Iterable[str]) -> dict[str, KnownEntry]:
    """Those of the ids that are in the log."""
    rows = _KNOWN(session, garden=garden_id, ids=set(ids)).all()
    waits = {row.id for row in rows if row.kind == "treat"}
    waits |= _manures(session, garden_id, {row.id for row in rows if row.kind == "feed"})
    return {
        row.id: KnownEntry(
            row.id,
            row.seq,
            row.order,
            row.kind,
            row.person_id,
            row.content_hash,
            json.loads(row.remarks or "{}"),
            row.id in waits,
        )
        for row in rows
    }


def _manures(session: Session, garden_id: str, feeds: set[str]) -> set[str]:
    """Those that were raw manure as written, or in any correction."""
    if not feeds:
        return set()
    is_told = Entry.id.in_(feeds) | ((Entry.kind == "correct") & Entry.root_id.in_(feeds))
    rows = session.execute(
        select(Entry.id, Entry.root_id, Entry.body).where(Entry.garden_id == garden_id, is_told)
    )
    return {row.root_id or row.id for row in rows if makes_wait(json.loads(row.body))}


class PageRows:
    """The next rows above a cursor, as many as one page holds: a page may have megabytes, so they
    are read while they are gone through, and never lie in memory all at once.

    What the attributes say is known once all have been gone through. A full page stays as it is,
    whatever comes later.
    """

    def __init__(self, session: Session, garden_id: str, cursor: int, limit: int) -> None:
        self._session = session
        self._from = {"garden": garden_id, "cursor": cursor}
        self._limit = limit
        self.count = 0
        self.last_id = ""
        self.is_full = False

    def __iter__(self) -> Iterator[Row[*tuple[Any, ...]]]:
        size = 0
        with _PAGE(self._session, **self._from, limit=self._limit) as found:
            for row in found:
                self.count += 1
                self.last_id = row.id
                size += len(row.body.encode())
                yield row
                if size >= PAGE_BYTES:
                    break
        self.is_full = self.count == self._limit or size >= PAGE_BYTES


def entries_after(session: Session, garden_id: str, cursor: int, limit: int) -> list[str]:
    """The next entries above a cursor, each as its JSON text in the stored form."""
    return [stored_text(row) for row in PageRows(session, garden_id, cursor, limit)]


def find_id_at(session: Session, garden_id: str, seq: int) -> str | None:
    """The id of the entry that has this number in the log; None above its end."""
    found: str | None = _ID_AT(session, garden=garden_id, seq=seq).scalar_one_or_none()
    return found


def entries_of_subjects(
    session: Session,
    garden_id: str,
    beds: Iterable[str],
    plantings: Iterable[str],
    *,
    garden_wide: bool,
    kinds: Iterable[str] | None = None,
) -> list[dict[str, Any]]:
    """Every entry about these subjects, in the order of the log, with all that mends them.

    `kinds` names the kinds of roots that are wanted.
    """
    about: list[ColumnElement[bool]] = [
        Entry.bed_id.in_(set(beds)),
        Entry.planting_id.in_(set(plantings)),
    ]
    if garden_wide:
        about.append(Entry.garden_wide == true())
    if kinds is not None:
        is_wanted = Entry.kind.in_({*kinds, *MENDING_KINDS})
        about = [and_(one, is_wanted) for one in about]
    return entries_found(session, garden_id, about)


def entries_found(
    session: Session, garden_id: str, searches: Iterable[ColumnElement[bool]]
) -> list[dict[str, Any]]:
    """What any of the searches finds, in the order of the log, with all that mends it.

    A correction may restate another subject than its root has: it is found by the root, and the
    root is found by it. Each search should have an index: joined by OR they make SQLite read the
    whole garden instead.
    """
    asked = [
        select(func.coalesce(Entry.root_id, Entry.id).label("root")).where(
            Entry.garden_id == garden_id, search
        )
        for search in searches
    ]
    # In the statement, since a bed of many years has more entries than a statement may have values;
    # named, so that what is found is searched for once.
    roots = select(union(*asked).cte("roots").c.root)
    columns = select(Entry.body, Entry.seq, Entry.order, Entry.received_at_ms)
    rows = session.execute(_of_roots(columns, garden_id, roots))
    return [_stored(row) for row in sorted(rows, key=lambda row: int(row.seq))]


def touched_by(session: Session, garden_id: str, told: Sequence[Mapping[str, Any]]) -> Scope:
    """What these entries of the log change, counting what they mend, and what mends them already.

    They are given as the columns that were just stored: to ask for 500 rows again is felt.
    """
    mended = {one["root_id"] for one in told if one["root_id"]}
    roots = {one["root_id"] or one["id"] for one in told}
    rows = [(one["bed_id"], one["planting_id"], one["garden_wide"]) for one in told]
    rows += [(*row,) for row in _PLACES_OF_MENDING(session, garden=garden_id, roots=roots)]
    if mended:
        rows += [(*row,) for row in _PLACES_OF_IDS(session, garden=garden_id, ids=mended)]
    return Scope(
        beds=frozenset(bed for bed, _, _ in rows if bed),
        plantings=frozenset(planting for _, planting, _ in rows if planting),
        garden_wide=any(garden_wide for _, _, garden_wide in rows),
    )


def stays_near(session: Session, garden_id: str, scope: Scope) -> list[tuple[str, str]]:
    """Every planting and bed, one of which is in the scope, where the one was put in the other."""
    rows = _STAYS_NEAR(session, garden=garden_id, beds=scope.beds, plantings=scope.plantings)
    return [(planting, bed) for planting, bed in rows if planting and bed]


def columns_of(entry: Mapping[str, Any]) -> dict[str, Any]:
    """What a row of the log tells again of its entry, to be searched by."""
    root = root_of(entry)
    bed, planting = subject_of(entry, "bed"), subject_of(entry, "planting")
    return {
        "id": entry["id"],
        "notebook_id": entry["notebook"],
        "number": entry["number"],
        "kind": entry["kind"],
        "root_id": root,
        "bed_id": bed,
        "planting_id": planting,
        # A correction may turn rain on one bed into rain on the whole garden; a void never does.
        "garden_wide": not (bed or planting or entry["kind"] == "void"),
        "day": parse_day(entry["happened_at"][:_DATE_LENGTH]),
        "topic": _topic(entry),
        "person_id": entry["person"],
    }


def set_aside_entries(session: Session, garden_id: str) -> list[SetAside]:
    """What was set aside and no other entry has mended yet, the oldest first."""
    return list(
        session.scalars(
            select(SetAside)
            .where(SetAside.garden_id == garden_id, SetAside.mended_by.is_(None))
            .order_by(SetAside.received_at_ms, SetAside.entry_id)
        )
    )


def _of_roots(columns: Any, garden_id: str, roots: Select[str]) -> CompoundSelect[Any]:
    """Roots and all that mends them, each half by its own index."""
    own = columns.where(Entry.garden_id == garden_id)
    return union_all(own.where(Entry.id.in_(roots)), own.where(Entry.root_id.in_(roots)))


def _stored(row: Any) -> dict[str, Any]:
    return {
        **json.loads(row.body),
        "seq": row.seq,
        "order": row.order,
        "received_at": row.received_at_ms,
    }


def _row(garden_id: str, seq: int, new: NewEntry) -> dict[str, Any]:
    return {
        **new.columns,
        "garden_id": garden_id,
        "seq": seq,
        "order": new.order,
        "received_at_ms": new.received_at_ms,
        "content_hash": new.content_hash,
        "device_id": new.brought_by,
        "body": new.body,
        "remarks": json.dumps(new.remarks) if new.remarks else None,
    }


def stored_text(row: Row[*tuple[Any, ...]]) -> str:
    """A row of a page as JSON.

    The body with the shed's three keys spliced in: parsing it only to write it again costs more
    than reading it from the disk.
    """
    added = f'"seq":{row.seq},"order":"{row.order}","received_at":{row.received_at_ms}'
    return f"{row.body[:-1]},{added}}}"


def _topic(entry: Mapping[str, Any]) -> str | None:
    """No column can hold a text with a NUL in it, and no topic that is asked for has one."""
    topic = topic_of(entry["kind"], entry["details"])
    return topic if topic is not None and topic.isprintable() else None


def _id(value: Any) -> str | None:
    return value if isinstance(value, str) and is_id_again(value) else None
