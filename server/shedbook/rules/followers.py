"""What may follow in a bed: each crop is tried there by the rules on place, and ranked."""

from collections.abc import Iterable, Mapping, Set
from dataclasses import replace
from typing import Any

from shedbook.log.moment import civil_date, day_text, parse_day
from shedbook.rules.beside import beside
from shedbook.rules.film import film
from shedbook.rules.finding import Finding
from shedbook.rules.follow import follow
from shedbook.rules.match import Context, Json, Rule, applies, context_of, number, own, text
from shedbook.rules.rest import rest

# The shapes that ask about a place; each row of them says what going against it weighs.
OF_PLACE = {"rest": rest, "beside": beside, "follow": follow, "film": film}
TRIED = "tried"
# The season's start where the garden has no last frost date: common practice, no source.
SEASON_START = "05-15"

Follower = dict[str, Any]


def followers(
    view: Json, rulebook: Json, today: int, now: int, day: int, crops: Iterable[str], own: Set[str]
) -> list[Follower]:
    """The crops for a bed from a day on, least conflict first, and of equals the garden's own."""
    context = context_of(view, rulebook, today, now)
    tried = [try_crop(context, crop, day) for crop in sorted(set(crops))]
    return sorted(tried, key=lambda one: (one["cost"], one["crop"] not in own, one["crop"]))


def try_crop(bed: Context, crop: str, day: int) -> Follower:
    """What the rules say of a crop set out in the bed on a day; `bed` is a bed's context."""
    planting: dict[str, Any] = {
        "id": TRIED,
        "hidden": False,
        "removed": {},
        "standing": False,
        "crop": crop,
        "bed": bed.view["bed"]["id"],
        "planned_on": day_text(day),
    }
    subject = {"bed": planting["bed"], "planting": TRIED}
    view = {**bed.view, "kind": "planting", "subject": subject, "planting": planting}
    view["residents"] = [*bed.view["residents"], planting]
    context = replace(bed, view=view)
    told = [
        (weight_of(rule, made), made)
        for rule in bed.rulebook["rules"]
        if rule["shape"] in OF_PLACE and applies(context, rule)
        for made in OF_PLACE[rule["shape"]](context, rule)
    ]
    told.sort(key=lambda one: (-one[0], one[1]["key"]))
    cost = 0.0
    for weight, _ in told:
        cost += weight
    return {"crop": crop, "cost": cost, "findings": [made for _, made in told]}


def weight_of(rule: Rule, made: Finding) -> float:
    """What a finding weighs against the place; less than nothing where it speaks for it."""
    params = rule["params"]
    evidence = made["message"]["values"].get("evidence")
    if evidence is not None:
        weight = number(own(params.get("weights"), evidence)) or 0
        return -weight if made["state"] == "noted" else weight
    name = "weight" if made["state"] == "flagged" else f"weight_{made['state']}"
    return number(params.get(name)) or 0


def season_day(settings: Mapping[str, Any], year: int) -> int:
    """The day from which a season's crops are thought to be set out: after the last frost."""
    try:
        return parse_day(f"{year:04d}-{text(settings.get('last_frost'))}")
    except ValueError:
        return parse_day(f"{year:04d}-{SEASON_START}")


def next_season_day(settings: Mapping[str, Any], today: int) -> int:
    """The next such day that is still to come."""
    year = civil_date(today)[0]
    day = season_day(settings, year)
    return day if day > today else season_day(settings, year + 1)
