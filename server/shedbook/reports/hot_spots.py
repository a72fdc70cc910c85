"""Whether the affected plants of one round stand together: where each is known to stand."""

from collections.abc import Mapping
from typing import Any

from shedbook.agronomy.errors import AgronomyError
from shedbook.agronomy.join_counts import Place, expected_both, permutation_p, rook_joins
from shedbook.log.layout import plants_per_row, row_of
from shedbook.rules.match import number
from shedbook.rules.sessions import Session

Json = Mapping[str, Any]

ROUNDS = 999
# Fewer plants than this show no pattern that lots could not make.
FEWEST_PLANTS = 8
RARE = 0.05
MOST_ROWS = 1000
MOST_PLANTS = 20_000


def hot_spot(planting: Json, session: Session, day: int) -> dict[str, Any]:
    """What the places of the affected plants say, as a message key with its figures."""
    known = known_plants(planting, session, day)
    ill = [plant for plant, is_ill in known.items() if is_ill]
    if len(known) < FEWEST_PLANTS:
        return _told("not_mapped", known=len(known), needed=FEWEST_PLANTS)
    if len(ill) < 2 or len(ill) == len(known):
        return _told("no_pattern", affected=len(ill), known=len(known))
    standing = {plant: _place(planting, plant) for plant in known}
    places = list(standing.values())
    affected = [standing[plant] for plant in ill]
    joins = rook_joins(affected, places)
    try:
        chance = permutation_p(affected, places, ROUNDS, seed=day)
    except AgronomyError:
        return _told("not_mapped", known=len(known), needed=FEWEST_PLANTS)
    return _told(
        "patches" if chance <= RARE else "by_chance",
        affected=len(ill),
        known=len(known),
        pairs=joins.both,
        expected_pairs=expected_both(len(ill), len(known), sum(joins)),
        chance=chance,
        in_a_thousand=chance * 1000,
    )


def known_plants(planting: Json, session: Session, day: int) -> dict[int, bool]:
    """The plants known one by one; where every plant was looked at, the rest are without a find."""
    known = dict(session.known)
    count = number(planting.get("plants"))
    if count is None or not 1 <= count <= MOST_PLANTS:
        return {}
    removed = planting.get("removed") or {}
    gone = {int(plant) for plant, when in removed.items() if when < day}
    stood = [plant for plant in range(1, int(count) + 1) if plant not in gone]
    ill = [plant for plant, is_ill in known.items() if is_ill]
    if session.has_share and session.looked >= len(stood) and session.affected == len(ill):
        known = dict.fromkeys(stood, False) | known
    return {plant: is_ill for plant, is_ill in sorted(known.items()) if plant in set(stood)}


def _place(planting: Json, plant: int) -> Place:
    """Row and place in the row, as plants are numbered along the rows."""
    count = int(number(planting.get("plants")) or 1)
    rows = number(planting.get("rows"))
    whole = int(rows) if rows is not None and 1 <= rows <= MOST_ROWS else 1
    row = row_of(plant, count, whole)
    return row, plant - (row - 1) * plants_per_row(count, whole)


def _told(key: str, **values: Any) -> dict[str, Any]:
    return {"key": f"hot_spot.{key}", "values": values}
