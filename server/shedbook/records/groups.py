"""Bed groups: what has to be worked out again when an entry comes in.

A group is a bed with the plantings that stand in it, or a planting that has no bed yet. The rules
of one group also read its neighbour beds. Where a planting stands and which beds lie side by side
is the fold of a few entries; it is kept in two tables so that finding a group needs no fold.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import delete, func, insert, or_, select
from sqlalchemy.orm import Session

from shedbook.log.ledger import Ledger
from shedbook.records.entries import (
    MENDING_KINDS,
    Scope,
    entries_of_subjects,
    stays_near,
    subject_of,
    touched_by,
)
from shedbook.records.models import Home, Neighbour, Standing

_BED_KINDS = ("bed",)
_PLANTING_KINDS = ("planting", "transplant")
_MOVING_KINDS = frozenset({*_BED_KINDS, *_PLANTING_KINDS, *MENDING_KINDS})
# What was sprayed goes with a planting to its next bed, and stays known where it stood; so does
# raw manure, which the view picks out among the feeds.
_TREATING_KINDS = ("treat",)
_WAITING_KINDS = (*_TREATING_KINDS, "feed")
_FOLLOWING_KINDS = frozenset({*_MOVING_KINDS, *_WAITING_KINDS})


@dataclass(frozen=True)
class BedGroup:
    """One unit of standing: its own subjects, and the neighbours that its rules look at."""

    id: str
    bed: str | None
    plantings: list[str]
    neighbour_beds: list[str]
    neighbour_plantings: list[str]


def all_groups(session: Session, garden_id: str) -> list[BedGroup]:
    """Every group of the garden, by id."""
    homes = session.execute(
        select(Home.subject_id, Home.bed_id).where(Home.garden_id == garden_id)
    ).all()
    plantings: dict[str, list[str]] = {}
    lone: list[str] = []
    for subject, bed in homes:
        if bed is None:
            lone.append(subject)
        elif bed == subject:
            plantings.setdefault(bed, [])
        else:
            plantings.setdefault(bed, []).append(subject)
    beside = _both_directions(session, garden_id)
    groups = [BedGroup(planting, None, [planting], [], []) for planting in lone]
    for bed, standing_in in plantings.items():
        others = sorted(beside.get(bed, set()))
        next_door = [planting for other in others for planting in plantings.get(other, [])]
        groups.append(BedGroup(bed, bed, sorted(standing_in), others, sorted(next_door)))
    return sorted(groups, key=lambda group: group.id)


def labels_of_garden(session: Session, garden_id: str) -> list[Home]:
    """Every bed and planting with what people call it."""
    return list(
        session.scalars(
            select(Home)
            .where(Home.garden_id == garden_id)
            .execution_options(populate_existing=True)
        )
    )


def entries_of_bed_group(session: Session, garden_id: str, group: BedGroup) -> list[dict[str, Any]]:
    """All that the rules of this group read: its own entries, its neighbours', the weather."""
    beds = [*([group.bed] if group.bed else []), *group.neighbour_beds]
    plantings = {*group.plantings, *group.neighbour_plantings}
    entries = entries_of_subjects(session, garden_id, beds, plantings, garden_wide=True)
    named = {subject_of(entry, "planting") for entry in entries}
    # A planting that has left would seem to stand here still, did nobody say where it went.
    gone = {planting for planting in named if planting} - plantings
    if gone:
        kinds = (*_PLANTING_KINDS, *_TREATING_KINDS)
        entries += entries_of_subjects(session, garden_id, [], gone, garden_wide=False, kinds=kinds)
    own = set(group.plantings)
    former = {subject_of(one, "bed") for one in entries if subject_of(one, "planting") in own}
    left = {bed for bed in former if bed} - set(beds)
    if left:
        entries += entries_of_subjects(
            session, garden_id, left, [], garden_wide=False, kinds=_WAITING_KINDS
        )
    return entries


def forget_standing(
    session: Session, garden_id: str, entries: Sequence[Mapping[str, Any]]
) -> Scope:
    """Bring homes and neighbours up to date and delete the standing of all groups touched.

    Called in the transaction that stored the entries, so no reader sees the one without the other.
    Returns what the entries touch.
    """
    scope = touched_by(session, garden_id, entries)
    if any(entry["kind"] in _FOLLOWING_KINDS for entry in entries):
        scope = _followed(session, garden_id, scope)
    near = _groups_near(session, garden_id, scope)
    moving = [entry for entry in entries if entry["kind"] in _MOVING_KINDS]
    if moving:
        moved = touched_by(session, garden_id, moving)
        update_homes(session, garden_id, moved.beds, moved.plantings)
        near |= _groups_near(session, garden_id, scope)
    gone = delete(Standing).where(Standing.garden_id == garden_id)
    if not scope.garden_wide:
        gone = gone.where(Standing.bed_group.in_(near))
    session.execute(gone)
    return scope


def _followed(session: Session, garden_id: str, scope: Scope) -> Scope:
    """The scope, the plantings that ever stood in its beds, and the beds of its plantings."""
    stays = stays_near(session, garden_id, scope)
    beds = {bed for planting, bed in stays if planting in scope.plantings}
    plantings = {planting for planting, bed in stays if bed in scope.beds}
    return Scope(scope.beds | beds, scope.plantings | plantings, scope.garden_wide)


def update_homes(
    session: Session, garden_id: str, beds: Iterable[str], plantings: Iterable[str]
) -> None:
    """Fold the beds' and plantings' own entries again and store where they are."""
    beds, plantings = set(beds), set(plantings)
    ledger = Ledger()
    ledger.add(
        entries_of_subjects(session, garden_id, beds, [], garden_wide=False, kinds=_BED_KINDS)
    )
    ledger.add(
        entries_of_subjects(
            session, garden_id, [], plantings, garden_wide=False, kinds=_PLANTING_KINDS
        )
    )
    homes = [
        _home(garden_id, bed, bed["id"], None, bed.get("name"))
        for bed in filter(None, map(ledger.bed, beds))
    ] + [
        _home(garden_id, one, one.get("bed"), one.get("crop"), one.get("variety"))
        for one in filter(None, map(ledger.planting, plantings))
    ]
    beside = [
        (bed["id"], other)
        for bed in filter(None, map(ledger.bed, beds))
        for other in set(bed.get("beside") or []) - {bed["id"]}
    ]
    session.execute(
        delete(Home).where(Home.garden_id == garden_id, Home.subject_id.in_(beds | plantings))
    )
    if homes:
        session.execute(insert(Home), homes)
    _replace_neighbours(session, garden_id, beds, beside)


def _home(
    garden_id: str, subject: Mapping[str, Any], bed: str | None, crop: str | None, name: str | None
) -> dict[str, Any]:
    return {
        "garden_id": garden_id,
        "subject_id": subject["id"],
        "bed_id": bed,
        "crop": crop,
        "name": name,
    }


def _replace_neighbours(
    session: Session, garden_id: str, beds: set[str], beside: list[tuple[str, str]]
) -> None:
    session.execute(
        delete(Neighbour).where(Neighbour.garden_id == garden_id, Neighbour.bed_id.in_(beds))
    )
    if beside:
        session.execute(
            insert(Neighbour),
            [{"garden_id": garden_id, "bed_id": bed, "other_id": other} for bed, other in beside],
        )


def _groups_near(session: Session, garden_id: str, scope: Scope) -> set[str]:
    """The groups of the scope, and those that look at one of them over the path."""
    home = session.scalars(
        select(func.coalesce(Home.bed_id, Home.subject_id)).where(
            Home.garden_id == garden_id, Home.subject_id.in_(scope.plantings)
        )
    )
    own = {*scope.beds, *scope.plantings, *home}
    rows = session.execute(
        select(Neighbour.bed_id, Neighbour.other_id).where(
            Neighbour.garden_id == garden_id,
            or_(Neighbour.bed_id.in_(own), Neighbour.other_id.in_(own)),
        )
    )
    return own | {bed for pair in rows for bed in pair}


def _both_directions(session: Session, garden_id: str) -> dict[str, set[str]]:
    beside: dict[str, set[str]] = {}
    for bed, other in session.execute(
        select(Neighbour.bed_id, Neighbour.other_id).where(Neighbour.garden_id == garden_id)
    ):
        beside.setdefault(bed, set()).add(other)
        beside.setdefault(other, set()).add(bed)
    return beside
