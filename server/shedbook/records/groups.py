"""Bed groups: what has to be worked out again when an entry comes in.

A group is a bed with the plantings that stand in it, or a planting that has no bed yet. The rules
of one group also read its neighbour beds. Where a planting stands and which beds lie side by side
is the fold of a few entries; it is kept in two tables so that finding a group needs no fold.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, cast

from sqlalchemy import Table, bindparam, delete, func, insert, or_, select
from sqlalchemy.orm import Session

from shedbook.log.ledger import Ledger
from shedbook.log.telling import MENDING_KINDS
from shedbook.records.asked import Asked
from shedbook.records.entries import (
    Scope,
    entries_of_subjects,
    stays_near,
    touched_by,
)
from shedbook.records.models import Home, Neighbour, Standing

_BED_KINDS = ("bed",)
_PLANTING_KINDS = ("planting", "transplant")
_MOVING_KINDS = frozenset({*_BED_KINDS, *_PLANTING_KINDS, *MENDING_KINDS})
# What was sprayed goes with a planting to its next bed, and stays known where it stood; so does
# raw manure, which the view picks out among the feeds.
_FOLLOWING_KINDS = frozenset({*_MOVING_KINDS, "treat", "feed"})

_homes, _neighbours, _standing = (kind.__table__.c for kind in (Home, Neighbour, Standing))
_GROUPS_OF_PLANTINGS = Asked(
    lambda among: select(func.coalesce(_homes.bed_id, _homes.subject_id)).where(
        _homes.garden_id == bindparam("garden"), among(_homes.subject_id, "plantings")
    )
)
_SIDE_BY_SIDE = Asked(
    lambda among: select(_neighbours.bed_id, _neighbours.other_id).where(
        _neighbours.garden_id == bindparam("garden"),
        or_(among(_neighbours.bed_id, "groups"), among(_neighbours.other_id, "groups")),
    )
)
_ALL_GONE = delete(cast(Table, Standing.__table__)).where(
    _standing.garden_id == bindparam("garden")
)
_GONE = Asked(lambda among: _ALL_GONE.where(among(_standing.bed_group, "groups")))


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


def forget_standing(session: Session, garden_id: str, told: Sequence[Mapping[str, Any]]) -> Scope:
    """Bring homes and neighbours up to date and delete the standing of all groups touched.

    Called in the transaction that stored the entries, so no reader sees the one without the other;
    `told` are their columns. Returns what the entries touch.
    """
    scope = touched_by(session, garden_id, told)
    if any(one["kind"] in _FOLLOWING_KINDS for one in told):
        scope = _followed(session, garden_id, scope)
    near = _groups_near(session, garden_id, scope)
    moving = [one for one in told if one["kind"] in _MOVING_KINDS]
    if moving:
        moved = touched_by(session, garden_id, moving)
        update_homes(session, garden_id, moved.beds, moved.plantings)
        near |= _groups_near(session, garden_id, scope)
    if scope.garden_wide:
        session.execute(_ALL_GONE, {"garden": garden_id})
    else:
        _GONE(session, garden=garden_id, groups=near)
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
    beds = set(beds)
    # A faulty program may write of a bed under a planting's id: its home is the planting's then.
    ids = beds | set(plantings)
    ledger = Ledger()
    ledger.add(
        entries_of_subjects(session, garden_id, ids, [], garden_wide=False, kinds=_BED_KINDS)
    )
    ledger.add(
        entries_of_subjects(session, garden_id, [], ids, garden_wide=False, kinds=_PLANTING_KINDS)
    )
    homes = {
        bed["id"]: _home(garden_id, bed, bed["id"], None, bed.get("name"))
        for bed in filter(None, map(ledger.bed, ids))
    } | {
        one["id"]: _home(garden_id, one, one.get("bed"), one.get("crop"), one.get("variety"))
        for one in filter(None, map(ledger.planting, ids))
    }
    beside = [
        (bed["id"], other)
        for bed in filter(None, map(ledger.bed, beds))
        for other in set(bed.get("beside") or []) - {bed["id"]}
    ]
    session.execute(delete(Home).where(Home.garden_id == garden_id, Home.subject_id.in_(ids)))
    if homes:
        session.execute(insert(Home), list(homes.values()))
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
    home = _GROUPS_OF_PLANTINGS(session, garden=garden_id, plantings=scope.plantings).scalars()
    own = {*scope.beds, *scope.plantings, *home}
    rows = _SIDE_BY_SIDE(session, garden=garden_id, groups=own)
    return own | {bed for pair in rows for bed in pair}


def _both_directions(session: Session, garden_id: str) -> dict[str, set[str]]:
    beside: dict[str, set[str]] = {}
    for bed, other in session.execute(
        select(Neighbour.bed_id, Neighbour.other_id).where(Neighbour.garden_id == garden_id)
    ):
        beside.setdefault(bed, set()).add(other)
        beside.setdefault(other, set()).add(bed)
    return beside
