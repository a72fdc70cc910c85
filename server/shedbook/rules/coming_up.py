"""From sowing to seedlings: when they are due by a crop's table, and how many should stand."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from shedbook.agronomy.emergence import daily_share, normal_share
from shedbook.agronomy.errors import OutOfRange
from shedbook.agronomy.proportion import wilson_interval
from shedbook.rules.answered import is_answered
from shedbook.rules.finding import HORIZON_DAYS, Finding, Reason, finding, reason
from shedbook.rules.heat_sum import HAIR
from shedbook.rules.match import (
    Context,
    Event,
    Rule,
    crop_fact,
    days,
    find_for,
    has_ended,
    limit,
    number,
)
from shedbook.rules.seed_warmth import seed_warmth, temperature_on

# No table has seed that lies longer than this.
LONGEST_DAYS = 400
# What the interval can be asked for; the narrowest leaves nothing to chance.
NARROWEST_Z, WIDEST_Z = 0.001, 6
MOVED_ON = ("thin", "pot_on", "harden", "transplant", "stage", "pick")


@dataclass
class Way:
    """How far one sowing has come along its table; the days are those on which shares are full."""

    expected: int | None = None
    late: int | None = None
    mean_c: float | None = None
    what: str = "soil"
    trouble: Reason | None = None


class Table(NamedTuple):
    """A crop's temperatures with a figure for each."""

    temps_c: list[float]
    values: list[float]


def coming_up(context: Context, rule: Rule) -> list[Finding]:
    """When the last sowing should show, due until it is late, flagged from then on."""
    sow = _last_sowing(context)
    ordinal = "" if sow is None else sow["id"]
    if sow is None or _seedlings(context, sow) or _moved_on(context, sow):
        return []
    waited = context.today - sow["day"]
    if waited > LONGEST_DAYS or is_answered(context, rule, ordinal):
        return []
    way = _way(context, rule, sow)
    why = [reason("done.sow", done_day=sow["day"])]
    if way.trouble is not None:
        if waited > days(context, rule, "asks_for_days"):
            return []
        made = finding(context, rule, ordinal, "unknown", {}, [*why, way.trouble], [sow])
        return [made | {"settles": None}]
    if way.expected is None or way.late is None or way.expected - context.today > HORIZON_DAYS:
        return []
    factor = limit(context, rule, "late_factor") or 1
    values: dict[str, Any] = {"due_day": way.expected}
    why.append(_warmth_reason(way))
    why.append(
        reason("emergence.table", table_days=way.expected - sow["day"], due_day=way.expected)
    )
    why.append(reason("emergence.late", late_factor=factor, late_day=way.late))
    if context.today < way.expected:
        state = "upcoming"
        values["ahead_days"] = way.expected - context.today
    elif context.today < way.late:
        state = "due"
    else:
        state = "flagged"
        values["sown_days"] = waited
        why.append(reason("emergence.change"))
    made = finding(context, rule, ordinal, state, values, why, [sow])
    return [made | {"opens": way.expected, "due": way.expected, "closes": way.late - 1}]


def stand(context: Context, rule: Rule) -> list[Finding]:
    """Fewer seedlings than the table has at that warmth, once the late day has come."""
    sow = _last_sowing(context)
    if sow is None or is_answered(context, rule, sow["id"]) or _moved_on(context, sow):
        return []
    up = _seedlings(context, sow)
    table = _table(context, "normal_seedling_share", -1)
    if not up or table is None or context.today - sow["day"] > LONGEST_DAYS:
        return []
    way = _way(context, rule, sow)
    if way.late is None or way.mean_c is None or context.today < way.late:
        return []
    proof = [sow, *up]
    told = [number(event["details"].get("count")) for event in up]
    count = max((count for count in told if count is not None), default=0)
    seeds = number(sow["details"].get("seeds"))
    if seeds is None or seeds < 1 or not 0 < count <= seeds:
        if context.today - way.late > days(context, rule, "asks_for_days"):
            return []
        made = finding(context, rule, sow["id"], "unknown", {}, [reason("stand.ask")], proof)
        return [made | {"settles": None}]
    try:
        normal = normal_share(table.temps_c, table.values, way.mean_c)
    except OutOfRange:
        return []
    if count / seeds >= normal:
        return []
    return [_short(context, rule, way, (count, seeds, normal), proof)]


def _short(
    context: Context,
    rule: Rule,
    way: Way,
    figures: tuple[float, float, float],
    proof: Sequence[Event],
) -> Finding:
    """A stand below the table's: flagged where chance alone would seldom leave so few."""
    count, seeds, normal = figures
    width = min(max(limit(context, rule, "chance_z") or 0, NARROWEST_Z), WIDEST_Z)
    _, highest = wilson_interval(count, seeds, width)
    state = "flagged" if highest < normal else "noted"
    values = {"count": count, "seeds": seeds, "stand_share": count / seeds, "normal_share": normal}
    why = [
        _warmth_reason(way),
        reason("stand.late", late_day=way.late),
        reason("stand.chance", highest_share=highest, normal_share=normal),
        reason("stand.change"),
    ]
    return finding(context, rule, proof[0]["id"], state, values, why, proof)


def _last_sowing(context: Context) -> Event | None:
    planting = context.view["planting"]
    if has_ended(planting, context.today):
        return None
    sowings = find_for(context, {"kind": "sow"}, planting)
    return sowings[-1] if sowings else None


def _seedlings(context: Context, sow: Event) -> list[Event]:
    """What was seen to come up since the sowing."""
    seen = find_for(context, {"kind": "emerge"}, context.view["planting"])
    return [event for event in seen if event["day"] >= sow["day"]]


def _moved_on(context: Context, sow: Event) -> bool:
    """Was anything done since that takes seedlings? Then they came up, and were chosen from."""
    planting = context.view["planting"]
    done = [event for kind in MOVED_ON for event in find_for(context, {"kind": kind}, planting)]
    return any(event["day"] >= sow["day"] for event in done)


def _way(context: Context, rule: Rule, sow: Event) -> Way:
    """Walk along the table day by day, past today as warm as it was read last."""
    table = _table(context, "emergence_days", 0)
    if table is None:
        return Way(trouble=reason("emergence.no_table", crop=context.view["planting"].get("crop")))
    held = days(context, rule, "held_days")
    warmth = seed_warmth(context, context.view["planting"], sow, held)
    if not warmth.days:
        return Way(trouble=reason("emergence.no_reading"))
    way, total, temps, read = Way(what=warmth.what), 0.0, 0.0, 0
    factor = max(limit(context, rule, "late_factor") or 1, 1)
    for day in range(sow["day"], sow["day"] + LONGEST_DAYS):
        # The days to come are taken to be as warm as the last one that was read.
        known = min(day, max(context.today - 1, warmth.days[-1]))
        temp = temperature_on(warmth, known, held)
        if temp is None:
            way.trouble = reason("emergence.gap", gap_day=day)
            return way
        try:
            total += daily_share(table.temps_c, table.values, temp)
        except OutOfRange:
            way.trouble = reason(
                "emergence.outside",
                temperature_c=temp,
                read_day=day,
                from_c=table.temps_c[0],
                to_c=table.temps_c[-1],
            )
            return way
        if day < context.today:
            temps, read = temps + temp, read + 1
            way.mean_c = temps / read
        if way.expected is None and total >= 1 - HAIR:
            way.expected = day + 1
        if total >= factor - HAIR:
            way.late = day + 1
            return way
    return way


def _table(context: Context, fact: str, no_value: float) -> Table | None:
    """The crop's table, cut to the temperatures that have a figure; None if there is none."""
    crop = context.view["planting"].get("crop")
    temps = _numbers(crop_fact(context, crop, "emergence_soil_c"))
    values = _numbers(crop_fact(context, crop, fact))
    if temps is None or values is None or len(temps) != len(values):
        return None
    if any(later <= earlier for earlier, later in itertools.pairwise(temps)):
        return None
    told = [at for at, value in enumerate(values) if value > no_value]
    if not told:
        return None
    first, last = told[0], told[-1] + 1
    return Table(temps[first:last], values[first:last])


def _numbers(value: Any) -> list[float] | None:
    """A list of numbers of a size that such a table can have."""
    if not isinstance(value, Sequence) or isinstance(value, str):
        return None
    found = [number(one) for one in value]
    kept = [one for one in found if one is not None and -100 <= one <= LONGEST_DAYS]
    return kept if len(kept) == len(found) else None


def _warmth_reason(way: Way) -> Reason:
    key = "emergence.soil" if way.what == "soil" else "emergence.air"
    return reason(key, mean_c=way.mean_c)
