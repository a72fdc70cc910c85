"""The part of the log that the rules of a bed group look at, which must not grow with the years.

What shapes the beds and plantings is read and folded first, since it says which of them have ended;
then the work, without the routine of long ago that no rule sees (rules/long_ago.py). What is read
beyond that changes nothing; what is left out must be surely unseen, whatever mends it. So all that
mends is read, and what it is about with it: a search need only find what is told as it was written.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import ColumnElement, and_, or_, true
from sqlalchemy.orm import Session

from shedbook.log.ledger import Ledger
from shedbook.log.telling import GARDEN_KINDS, GARDEN_WIDE_KINDS, MENDING_KINDS
from shedbook.records.entries import entries_found, entries_of_subjects, subject_of
from shedbook.records.groups import BedGroup
from shedbook.records.models import Entry
from shedbook.rules.long_ago import (
    LONG_AGO_DAYS,
    ROUTINE_KINDS,
    STORED_KIND,
    is_long_over,
    lasting_topics,
    may_be_stored,
    seen_since,
)
from shedbook.rules.match import Json, has_ended

Condition = ColumnElement[bool]

# What tells where a planting stands, from when until when, and whether it is asked anything; of
# neighbours it is all that counts.
_SHAPE_KINDS = ("bed", "planting", "sow", "transplant", "remove_plant", "store")
_READ_BEFORE = frozenset({*_SHAPE_KINDS, *MENDING_KINDS})
# What was sprayed goes with a planting to its next bed, and stays known where it stood.
_OF_GONE_KINDS = frozenset({"planting", "transplant", "treat", *MENDING_KINDS})
_OF_LEFT_KINDS = frozenset({"treat", *MENDING_KINDS})


@dataclass(frozen=True)
class _Plants:
    """The plantings of a group: what may grow, what has ended and is asked, what is long over; and
    of those that have ended what may be in the store.
    """

    growing: set[str] = field(default_factory=set)
    ended: set[str] = field(default_factory=set)
    over: set[str] = field(default_factory=set)
    stored: set[str] = field(default_factory=set)


def ledger_of_bed_group(
    session: Session, garden_id: str, group: BedGroup, rulebook: Json, today: int
) -> Ledger:
    """All that the rules of this group see: its own entries, its neighbours', the weather."""
    own_beds = [group.bed] if group.bed else []
    beds, plantings = (
        {*own_beds, *group.neighbour_beds},
        {*group.plantings, *group.neighbour_plantings},
    )
    shape = entries_of_subjects(
        session, garden_id, beds, plantings, garden_wide=False, kinds=_SHAPE_KINDS
    )
    ledger = Ledger()
    ledger.add(shape)
    plants = _plants_of(group, ledger, today)
    left = _left(ledger, plants.growing | plants.ended) - {group.bed}
    recent = today - LONG_AGO_DAYS
    lasting = _is_lasting(rulebook)
    searches = [
        *_of_garden(recent),
        *_of_bed(group, seen_since(ledger, group.bed, today)),
        *_of_plantings(plants, lasting, recent),
        and_(Entry.planting_id.in_(_gone(shape, group)), Entry.kind.in_(_OF_GONE_KINDS)),
        and_(Entry.bed_id.in_(left), Entry.kind.in_(_OF_LEFT_KINDS)),
        *(and_(Entry.bed_id.in_({*own_beds, *left}), one) for one in lasting),
    ]
    ledger.add(entries_found(session, garden_id, searches))
    return ledger


def _plants_of(group: BedGroup, ledger: Ledger, today: int) -> _Plants:
    plants = _Plants()
    for one in group.plantings:
        planting = ledger.planting(one)
        if planting is None or not has_ended(planting, today):
            plants.growing.add(one)
        elif is_long_over(ledger, planting, today):
            plants.over.add(one)
        else:
            plants.ended.add(one)
            if may_be_stored(ledger, planting, today):
                plants.stored.add(one)
    return plants


def _gone(shape: Iterable[Mapping[str, Any]], group: BedGroup) -> set[str]:
    """Plantings that have left the bed or a neighbour's, of which more must be read.

    They would seem to stand there still, did nobody say where they went.
    """
    named = ((subject_of(one, "planting"), subject_of(one, "bed")) for one in shape)
    own, next_door = set(group.plantings), set(group.neighbour_plantings)
    return {
        planting
        for planting, bed in named
        if planting and planting not in own and (bed == group.bed or planting not in next_door)
    }


def _left(ledger: Ledger, plantings: Iterable[str]) -> set[str]:
    """The beds in which these plantings ever stood: what was sprayed there went with them."""
    return {bed for one in plantings for bed in (ledger.planting(one) or {}).get("beds", ())}


# Below, one search an index.


def _of_garden(recent: int) -> Iterator[Condition]:
    """What names no subject and is looked at: settings, weather of late."""
    is_wide = Entry.garden_wide == true()
    yield and_(is_wide, Entry.kind.in_({*GARDEN_KINDS, *MENDING_KINDS}))
    yield and_(is_wide, Entry.kind.in_(GARDEN_WIDE_KINDS), Entry.day >= recent)


def _of_bed(group: BedGroup, since: int) -> Iterator[Condition]:
    """What names the bed: what is not routine, and the routine of late or of what grows on."""
    if group.bed is None:
        return
    is_here = Entry.bed_id == group.bed
    yield and_(is_here, Entry.kind.not_in(_READ_BEFORE | ROUTINE_KINDS))
    yield and_(is_here, Entry.kind.in_(ROUTINE_KINDS), Entry.day >= since)


def _is_lasting(rulebook: Json) -> list[Condition]:
    """Which entries of routine kinds tell of something for ever."""
    topics = lasting_topics(rulebook).items()
    return [and_(Entry.kind == kind, Entry.topic.in_(about)) for kind, about in topics]


def _of_plantings(plants: _Plants, lasting: list[Condition], recent: int) -> Iterator[Condition]:
    """What names a planting of the group: of one that has ended not its routine of long ago, and of
    one that is long over only what its bed looks at without being named.
    """
    is_late = or_(Entry.day >= recent, Entry.kind.not_in(ROUTINE_KINDS), *lasting)
    yield and_(Entry.planting_id.in_(plants.growing), Entry.kind.not_in(_READ_BEFORE))
    yield and_(Entry.planting_id.in_(plants.ended), Entry.kind.not_in(_READ_BEFORE), is_late)
    yield and_(Entry.planting_id.in_(plants.stored), Entry.kind == STORED_KIND)
    yield and_(Entry.planting_id.in_(plants.over), Entry.kind == "treat")
