"""A season looked back on: what each planting gave and lost, and what each figure rests on.

Figures stand side by side; nothing here says that one brought about another. A garden has too few
beds for that, and no two of them were alike.
"""

import itertools
from collections.abc import Iterable, Mapping
from typing import Any

from shedbook.log.ledger import Ledger
from shedbook.log.moment import civil_date, day_number
from shedbook.log.view import view_of_bed, view_of_planting
from shedbook.reports.thirst import thirst
from shedbook.rules.evaluate import evaluate
from shedbook.rules.match import live_plants, number

Json = dict[str, Any]

# Rules of these shapes tell how a planting fared; their word on its last day is kept.
TELLING_SHAPES = ("evenness", "budget", "nights", "progress")
# How the water account of a bed tells of its days.
WATER_DAYS = ("balance.stress", "balance.even")
DAY_S = 86_400
LAST_SECOND = DAY_S - 1


def review(ledger: Ledger, rulebook: Mapping[str, Any], season: int, today: int, now: int) -> Json:
    """Every planting that stood in its place in the year `season`, earliest first, and totals.

    `today` is a day number and `now` an instant; a season that still runs is told up to then.
    """
    told = [
        _of_planting(ledger, rulebook, planting, season, today, now)
        for planting in ledger.plantings()
        if not planting["hidden"] and _stood_in(planting, season, today)
    ]
    told.sort(key=lambda one: (one["from_day"], one["planting"]))
    return {
        "season": season,
        "is_over": civil_date(today)[0] > season,
        "plantings": told,
        "losses": _add_up(loss for one in told for loss in one["losses"]),
        "treatments": _treatments(ledger, season),
        "thirst": thirst(ledger, season),
    }


def _stood_in(planting: Mapping[str, Any], season: int, today: int) -> bool:
    start = planting.get("from_day")
    if start is None or start > today:
        return False
    until = planting.get("until_day", today)
    return civil_date(start)[0] <= season <= civil_date(until)[0]


def _of_planting(
    ledger: Ledger,
    rulebook: Mapping[str, Any],
    planting: Json,
    season: int,
    today: int,
    now: int,
) -> Json:
    first = max(planting["from_day"], day_number(season, 1, 1))
    last = min(planting.get("until_day", today), today, day_number(season, 12, 31))
    events = [
        event
        for event in ledger.events_of_planting(planting["id"])
        if first <= event["day"] <= last
    ]
    picks = [event for event in events if event["kind"] == "pick"]
    mean_plants = _mean_plants(planting, first, last)
    return {
        "planting": planting["id"],
        "bed": planting.get("bed"),
        "crop": planting.get("crop"),
        "from_day": planting["from_day"],
        "last_day": last,
        "is_over": "until_day" in planting and planting["until_day"] <= today,
        "plants": number(planting.get("plants")),
        "mean_plants": mean_plants,
        "removed": _removed(events),
        **_yield(planting, picks, mean_plants),
        "losses": _losses(events),
        "findings": _findings(ledger, rulebook, planting, last, now),
        "water": _water(ledger, rulebook, planting, last, now),
        "rests_on": _rests_on(events, picks),
    }


def _mean_plants(planting: Json, first: int, last: int) -> float | None:
    """Plants that stood on the mean day, so that a plant taken out in July counts until July."""
    if number(planting.get("plants")) is None:
        return None
    days = range(first, last + 1)
    return sum(len(live_plants(planting, day)) for day in days) / len(days) if days else None


def _yield(planting: Json, picks: list[Json], mean_plants: float | None) -> Json:
    count, mass = _total(picks, "count"), _total(picks, "mass_g")
    area = _area_m2(planting)
    days = sorted({event["day"] for event in picks})
    gaps = [later - earlier for earlier, later in itertools.pairwise(days)]
    return {
        "picked_count": count,
        "picked_g": mass,
        "first_pick_day": days[0] if days else None,
        "last_pick_day": days[-1] if days else None,
        "mean_pick_gap_days": sum(gaps) / len(gaps) if gaps else None,
        "count_per_plant": _over(count, mean_plants),
        "g_per_plant": _over(mass, mean_plants),
        "area_m2": area,
        "g_per_m2": _over(mass, area),
    }


def _area_m2(planting: Json) -> float | None:
    """The ground of all plants that went in, by their spacing; None where it is not told."""
    sizes = [number(planting.get(name)) for name in ("plants", "in_row_m", "between_rows_m")]
    plants, in_row, between = sizes
    if plants is None or in_row is None or between is None:
        return None
    return plants * in_row * between


def _over(total: float | None, parts: float | None) -> float | None:
    return None if total is None or not parts else total / parts


def _total(events: Iterable[Json], field: str) -> float | None:
    """None where no event tells the field, which is not the same as nothing."""
    told = [number(event["details"].get(field)) for event in events]
    known = [size for size in told if size is not None]
    return sum(known) if known else None


def _losses(events: list[Json]) -> list[Json]:
    return _add_up(
        {
            "cause": event["details"].get("cause", "other"),
            "count": number(event["details"].get("count")),
            "mass_g": number(event["details"].get("mass_g")),
        }
        for event in events
        if event["kind"] == "discard"
    )


def _add_up(losses: Iterable[Json]) -> list[Json]:
    """Losses of one cause added up, by cause."""
    totals: dict[str, Json] = {}
    for loss in losses:
        total = totals.setdefault(
            loss["cause"], {"cause": loss["cause"], "count": None, "mass_g": None}
        )
        for unit in ("count", "mass_g"):
            if loss[unit] is not None:
                total[unit] = (total[unit] or 0) + loss[unit]
    return [totals[cause] for cause in sorted(totals)]


def _removed(events: list[Json]) -> list[Json]:
    """Plants taken out, by cause."""
    causes: dict[str, int] = {}
    for event in events:
        if event["kind"] == "remove_plant":
            cause = event["details"].get("cause", "other")
            causes[cause] = causes.get(cause, 0) + len(event.get("plants", []))
    return [{"cause": cause, "plants_count": causes[cause]} for cause in sorted(causes)]


def _findings(
    ledger: Ledger, rulebook: Mapping[str, Any], planting: Json, last: int, now: int
) -> list[Json]:
    """What the rules told of water, warmth and feed on the planting's last day of the season."""
    view = view_of_planting(ledger, planting["id"])
    return _on_last_day(view, rulebook, TELLING_SHAPES, planting, last, now)


def _water(
    ledger: Ledger, rulebook: Mapping[str, Any], planting: Json, last: int, now: int
) -> list[Json]:
    """Days of stress and of even moisture in its bed, as reasons of the water account."""
    view = view_of_bed(ledger, planting["bed"]) if "bed" in planting else None
    found = _on_last_day(view, rulebook, ("balance",), planting, last, now)
    return [why for one in found for why in one["reasons"] if why["key"] in WATER_DAYS]


def _on_last_day(
    view: Json | None,
    rulebook: Mapping[str, Any],
    shapes: tuple[str, ...],
    planting: Json,
    last: int,
    now: int,
) -> list[Json]:
    if view is None:
        return []
    rules = [rule for rule in rulebook["rules"] if rule["shape"] in shapes]
    # The day before it was cleared is the last on which it stood.
    day = last - 1 if planting.get("until_day") == last else last
    view = view | {"events": [event for event in view["events"] if event["day"] <= day]}
    return evaluate(view, {**rulebook, "rules": rules}, day, min(now, day * DAY_S + LAST_SECOND))


def _rests_on(events: list[Json], picks: list[Json]) -> Json:
    """How many entries each kind of figure is made from."""
    kinds: dict[str, int] = {}
    for event in events:
        kinds[event["kind"]] = kinds.get(event["kind"], 0) + 1
    weighed = [event for event in picks if number(event["details"].get("mass_g")) is not None]
    return {"entries": kinds, "picks_weighed": len(weighed)}


def _treatments(ledger: Ledger, season: int) -> list[Json]:
    """Every treatment of the season as it was written down, earliest first, lifted ones too."""
    places = [ledger.events_in_bed(bed["id"]) for bed in ledger.beds()]
    places += [ledger.events_of_planting(planting["id"]) for planting in ledger.plantings()]
    found = {
        event["id"]: event
        for events in places
        for event in events
        if event["kind"] == "treat" and civil_date(event["day"])[0] == season
    }
    return sorted(found.values(), key=lambda event: (event["instant"], event["id"]))
