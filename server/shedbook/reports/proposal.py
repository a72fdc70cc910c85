"""Where next season's wishes would go with the least conflict, and why some find no place.

Each wish is tried in each bed by the rules on place; what the findings weigh is the cost there.
Weights are common practice, no source. Nothing of this is written down: the grower decides.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from shedbook.log.ledger import Ledger
from shedbook.log.view import view_of_bed
from shedbook.reports.placing import SECONDS, Placement, Problem, place
from shedbook.reports.wishes import Ground, Wish, ground_of, share_of, wishes_of
from shedbook.rules.beside import pair_of
from shedbook.rules.followers import Follower, season_day, try_crop
from shedbook.rules.match import Context, context_of, number, own

Json = dict[str, Any]

# What a wish that stays unmet costs, and what a bed other than the wanted one costs: the first is
# above any one conflict of the shipped rows, so that a wish is left out for several at once alone.
UNMET = 100.0
OTHER_BED = 5.0


class _Tried(NamedTuple):
    """All wishes and beds, with what the rules say of each wish in each bed."""

    wishes: list[Wish]
    grounds: list[Ground]
    told: list[list[Follower]]
    problem: Problem


def propose(
    ledger: Ledger,
    rulebook: Mapping[str, Any],
    season: int,
    today: int,
    now: int,
    seconds: float = SECONDS,
) -> Json:
    """A place for each wish of the season, as far as there is one, with reasons for both."""
    day = season_day(ledger.settings(), season)
    tried = _try(ledger, rulebook, season, day, today, now)
    placed = place(tried.problem, seconds)
    beds: list[Json] = []
    for number_of_bed, ground in enumerate(tried.grounds):
        here = [wish for wish, bed in enumerate(placed.beds) if bed == number_of_bed]
        beds.append(
            {
                "bed": ground.id,
                "area_m2": ground.area_m2,
                "room_share": ground.room,
                "placed": [_placed(tried, placed, wish) for wish in here],
            }
        )
    unmet = [wish for wish, bed in enumerate(placed.beds) if bed is None]
    return {
        "season": season,
        "day": day,
        "beds": beds,
        "unmet": [_unmet(tried, placed, wish) for wish in unmet],
        "cost": placed.cost,
        "bound": placed.bound,
        "gap": placed.gap,
        "is_best": placed.gap < 1e-3,
    }


def _try(
    ledger: Ledger, rulebook: Mapping[str, Any], season: int, day: int, today: int, now: int
) -> _Tried:
    wishes = wishes_of(ledger, rulebook, season)
    grounds = ground_of(ledger, rulebook, season, day)
    contexts = [_context(ledger, rulebook, ground.id, today, now) for ground in grounds]
    told = [[try_crop(context, wish.crop, day) for context in contexts] for wish in wishes]
    costs = [
        [
            told[at][bed]["cost"] + (OTHER_BED if wish.bed not in (None, ground.id) else 0.0)
            for bed, ground in enumerate(grounds)
        ]
        for at, wish in enumerate(wishes)
    ]
    places = {ground.id: at for at, ground in enumerate(grounds)}
    problem = Problem(
        costs=costs,
        shares=[[_share(wish, ground) for ground in grounds] for wish in wishes],
        rooms=[ground.room for ground in grounds],
        near=[
            [at, *(places[one] for one in ledger.beds_beside(ground.id) if one in places)]
            for at, ground in enumerate(grounds)
        ],
        apart=_apart(contexts, wishes),
        unmet_cost=UNMET,
    )
    return _Tried(wishes, grounds, told, problem)


def _context(
    ledger: Ledger, rulebook: Mapping[str, Any], bed: str, today: int, now: int
) -> Context:
    view = view_of_bed(ledger, bed)
    assert view is not None
    return context_of(view, rulebook, today, now)


def _share(wish: Wish, ground: Ground) -> float | None:
    """The part of the bed that the wish takes; None where it is larger than the bed."""
    share = share_of(wish.area_m2, ground.area_m2)
    return None if share > 1.0 else share


def _apart(contexts: list[Context], wishes: list[Wish]) -> dict[tuple[int, int], float]:
    """What two wishes cost near each other, where a row keeps their crops apart."""
    if not contexts:
        return {}
    context = contexts[0]
    rules = [rule for rule in context.rulebook["rules"] if rule["shape"] == "beside"]
    found: dict[tuple[int, int], float] = {}
    for one in range(len(wishes)):
        for other in range(one + 1, len(wishes)):
            crops = {"crop": wishes[one].crop}, {"crop": wishes[other].crop}
            for rule in rules:
                pair = pair_of(context, rule, *crops)
                if pair is not None and pair.get("good") is not True:
                    weight = number(own(rule["params"]["weights"], pair["grade"])) or 0.0
                    found[one, other] = found.get((one, other), 0.0) + weight
    return found


def _wish_of(tried: _Tried, wish: int) -> Json:
    told = tried.wishes[wish]
    return {
        "wish": told.id,
        "crop": told.crop,
        "plants": told.plants,
        "area_m2": told.area_m2,
        "wanted_bed": told.bed,
    }


def _placed(tried: _Tried, placed: Placement, wish: int) -> Json:
    bed = placed.beds[wish]
    assert bed is not None
    near = [
        {"key": "proposal.near", "values": {"crop": tried.wishes[wish].crop, "other_crop": crop}}
        for crop in _kept_apart(tried, placed, wish, bed)
    ]
    told = tried.told[wish][bed]
    why = [*_size_reasons(tried, wish, bed), *near]
    if tried.wishes[wish].bed not in (None, tried.grounds[bed].id):
        why.append({"key": "proposal.other_bed", "values": {"bed": tried.wishes[wish].bed}})
    if not told["findings"] and not near:
        why.append({"key": "proposal.none_known", "values": {}})
    return {
        **_wish_of(tried, wish),
        "cost": tried.problem.costs[wish][bed],
        "findings": told["findings"],
        "reasons": why,
    }


def _kept_apart(tried: _Tried, placed: Placement, wish: int, bed: int) -> list[str]:
    """The crops of wishes near by that a row keeps apart from this one."""
    crops = []
    for pair in tried.problem.apart:
        if wish not in pair:
            continue
        other = pair[0] if pair[1] == wish else pair[1]
        if placed.beds[other] in tried.problem.near[bed]:
            crops.append(tried.wishes[other].crop)
    return crops


def _size_reasons(tried: _Tried, wish: int, bed: int) -> list[Json]:
    area, whole = tried.wishes[wish].area_m2, tried.grounds[bed].area_m2
    if area is None:
        return [{"key": "proposal.area_unknown", "values": {}}]
    if whole is None:
        return [{"key": "proposal.bed_unknown", "values": {"area_m2": area}}]
    return [{"key": "proposal.takes", "values": {"area_m2": area, "bed_m2": whole}}]


def _unmet(tried: _Tried, placed: Placement, wish: int) -> Json:
    """The wish with the reason that it has no bed; a conflict comes with its findings."""
    problem, told = tried.problem, tried.wishes[wish]
    fits = [
        bed
        for bed, share in enumerate(problem.shares[wish])
        if share is not None and share <= problem.rooms[bed] + 1e-6
    ]
    cheapest = min(fits, key=lambda bed: problem.costs[wish][bed], default=None)
    findings: list[Any] = []
    values: Json = {"crop": told.crop}
    if not tried.grounds:
        key = "no_beds"
    elif cheapest is None:
        key = "no_room" if told.area_m2 is not None else "no_empty_bed"
        values |= {"area_m2": told.area_m2, "free_m2": _most_free(tried)}
    elif problem.costs[wish][cheapest] >= problem.unmet_cost:
        key = "conflict"
        values |= {"bed": tried.grounds[cheapest].id, "points": problem.costs[wish][cheapest]}
        findings = tried.told[wish][cheapest]["findings"]
    else:
        key = "taken"
        near = {placed.beds.index(bed) for bed in placed.beds if bed in fits}
        values["other_crops"] = sorted({tried.wishes[one].crop for one in near})
    why = [{"key": f"proposal.{key}", "values": values}]
    return {**_wish_of(tried, wish), "findings": findings, "reasons": why}


def _most_free(tried: _Tried) -> float | None:
    free = [one.room * one.area_m2 for one in tried.grounds if one.area_m2 is not None]
    return max(free, default=None)
