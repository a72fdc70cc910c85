"""Published events by degree days: what is near, what was reached, and what can't be told."""

from typing import Any

from shedbook.log.moment import civil_date, day_number
from shedbook.rules.answered import is_answered
from shedbook.rules.finding import HORIZON_DAYS, Finding, Reason, finding, reason
from shedbook.rules.heat_sum import (
    HeatSum,
    add_up,
    celsius_days,
    day_ahead,
    day_reached,
    heat_reasons,
    missing_reason,
    pace_reason,
    thresholds_of,
)
from shedbook.rules.match import Context, Json, Rule, days, find_for, limit, number, stands, text

# A count that began longer ago is not of this season.
LONGEST_DAYS = 400


def milestones(context: Context, rule: Rule) -> list[Finding]:
    """The next event when it is near, and those reached of late; unknown says what is missing."""
    planting = context.view["planting"]
    start = _start(context, rule)
    if start is None or not stands(planting, context.today):
        return []
    if not 0 < context.today - start <= LONGEST_DAYS:
        return []
    year = str(civil_date(start)[0])
    elsewhere = _elsewhere(context, rule)
    if elsewhere is not None:
        return _unknown(context, rule, f"{year}.place", {}, [elsewhere])
    thresholds = thresholds_of(context, rule)
    if thresholds is None:
        return _unknown(context, rule, f"{year}.place", {}, [reason("heat.thresholds")])
    heat = add_up(context, thresholds, start)
    most_missing = limit(context, rule, "most_missing_days") or 0
    found: list[Finding] = []
    for wanted in rule["params"]["milestones"]:
        reached = day_reached(heat, sum_of(wanted), most_missing)
        if reached is not None:
            found += _reached(context, rule, year, wanted, heat, reached)
        elif heat.missing[-1] > most_missing:
            values = {"missing_days": heat.missing[-1], "milestone": wanted["name"]}
            why = [missing_reason(heat), reason("heat.allowed", most_days=most_missing)]
            return found + _unknown(context, rule, f"{year}.weather", values, why)
        else:
            return found + _ahead(context, rule, year, wanted, heat)
    return found


def sum_of(wanted: Json) -> float:
    """The sum of a milestone, which its source gives in either degree."""
    fahrenheit = wanted.get("sum_f_days")
    chosen: float = wanted["sum_c_days"] if fahrenheit is None else celsius_days(fahrenheit)
    return chosen


def _start(context: Context, rule: Rule) -> int | None:
    """The day that the count begins with: of the calendar, or of the planting's own work."""
    begins = rule["params"]["biofix"]
    if "month_day" in begins:
        month, day = begins["month_day"].split("-")
        year = civil_date(context.today)[0]
        return day_number(year, int(month), int(day))
    done = find_for(context, begins, context.view["planting"])
    return done[0]["day"] if done else None


def _elsewhere(context: Context, rule: Rule) -> Reason | None:
    """Why the published sums can't be held to count in this garden."""
    regions = rule["params"].get("regions")
    if regions is None:
        return None
    settings = context.view["settings"]
    region = text(settings.get("region"))
    latitude = number(settings.get("latitude_deg"))
    if region is None:
        return reason("heat.no_region", regions=regions)
    if region not in regions:
        return reason("heat.other_region", regions=regions, region=region)
    if latitude is None:
        return reason("heat.no_latitude")
    return reason("heat.south") if latitude <= 0 else None


def _unknown(
    context: Context, rule: Rule, ordinal: str, values: dict[str, Any], why: list[Reason]
) -> list[Finding]:
    if is_answered(context, rule, ordinal):
        return []
    return [finding(context, rule, ordinal, "unknown", values, why, []) | {"settles": None}]


def _reached(
    context: Context, rule: Rule, year: str, wanted: Json, heat: HeatSum, reached: int
) -> list[Finding]:
    ordinal = f"{year}.{wanted['name']}"
    too_old = context.today - reached > days(context, rule, "told_for_days")
    if too_old or is_answered(context, rule, ordinal):
        return []
    values = {"milestone": wanted["name"], "reached_day": reached}
    why = [*heat_reasons(heat, sum_of(wanted)), reason("heat.look")]
    made = finding(context, rule, ordinal, "noted", values, why, [])
    return [made | {"due": reached}]


def _ahead(context: Context, rule: Rule, year: str, wanted: Json, heat: HeatSum) -> list[Finding]:
    needed = sum_of(wanted)
    ordinal = f"{year}.{wanted['name']}"
    due = day_ahead(heat, needed)
    near = heat.totals[-1] >= needed * (limit(context, rule, "horizon_share") or 0)
    if due is None or not near or due - context.today > HORIZON_DAYS:
        return []
    if is_answered(context, rule, ordinal):
        return []
    values = {"milestone": wanted["name"], "due_day": due}
    why = [*heat_reasons(heat, needed), pace_reason(heat, due), reason("heat.look")]
    made = finding(context, rule, ordinal, "upcoming", values, why, [])
    return [made | {"opens": due, "due": due}]
