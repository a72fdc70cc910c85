"""Days on which blossoms may drop for cold or heat, and the gap in picking that may follow.

Limits are graded: days past the outer ones are counted and told, days past the stronger ones are
flagged when several come together.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from shedbook.rules.answered import is_answered, is_declined_since
from shedbook.rules.daily import DAY_S, Day
from shedbook.rules.finding import HORIZON_DAYS, Finding, Reason, finding, reason
from shedbook.rules.match import (
    Context,
    Event,
    Rule,
    days,
    find_for,
    has_ended,
    limit,
    number,
)
from shedbook.rules.past_air import past_air

WEEK = 7
FIRST_FLOWER_OPEN = 61
LAST_STAGE = 99
# Looked back over for runs of such days: no fruit is a year on its way.
LONGEST_DAYS = 400


class Limits(NamedTuple):
    """What a night may not fall below or stay above, and a day not pass; in degrees Celsius."""

    low_night: float
    high_night: float
    high_day: float


@dataclass
class Count:
    """The days of a window, by what was past the limits."""

    cold_nights: int = 0
    warm_nights: int = 0
    hot_days: int = 0
    risk: int = 0
    strong: int = 0
    longest_run: int = 0
    most_in_week: int = 0
    missing: int = 0
    filled: int = 0


def fruit_set(context: Context, rule: Rule) -> list[Finding]:
    """The days at risk of the last weeks of bloom: a figure, or flagged when many came together."""
    bloom = _bloom(context, rule)
    window = days(context, rule, "window_days")
    since = (context.today - window) * DAY_S
    if bloom is None or is_declined_since(context, rule, "window", since):
        return []
    first = max(bloom.day, context.today - window)
    air = past_air(context, first)
    if not air:
        return []
    count = _count(context, rule, air)
    values = {"risk_days": count.risk, "counted_days": len(air) - count.missing}
    why = [_bloom_reason(bloom), *_limit_reasons(context, rule, count)]
    most_missing = limit(context, rule, "most_missing_days") or 0
    if count.missing > most_missing:
        why = [reason("fruit_set.missing", missing=count.missing, most_days=most_missing)]
        made = finding(context, rule, "window", "unknown", values, why, bloom.proof)
        return [made | {"settles": None}]
    if _is_strong(context, rule, count):
        why.append(
            reason("fruit_set.strong", run_days=count.longest_run, week_days=count.most_in_week)
        )
        return [finding(context, rule, "window", "flagged", values, why, bloom.proof)]
    if count.risk < max(limit(context, rule, "told_from_days") or 0, 1):
        return []
    return [finding(context, rule, "window", "noted", values, why, bloom.proof)]


def picking_gap(context: Context, rule: Rule) -> list[Finding]:
    """For each run of strong days: between which days little may be there to pick."""
    bloom = _bloom(context, rule)
    if bloom is None:
        return []
    first = max(bloom.day, context.today - LONGEST_DAYS)
    air = past_air(context, first)
    found = []
    for start, end in _runs(air, _limits(context, rule, "strong_")):
        gap_from = start + days(context, rule, "lag_from_days")
        gap_to = end + days(context, rule, "lag_to_days")
        is_long = end - start + 1 >= max(limit(context, rule, "run_days") or 0, 1)
        is_near = gap_from - HORIZON_DAYS <= context.today <= gap_to
        if not is_long or not is_near or is_answered(context, rule, str(start)):
            continue
        values = {"from_day": gap_from, "to_day": gap_to}
        why = [
            reason("picking_gap.run", start_day=start, end_day=end),
            reason(
                "picking_gap.lag",
                lag_from_days=days(context, rule, "lag_from_days"),
                lag_to_days=days(context, rule, "lag_to_days"),
            ),
            reason("picking_gap.change"),
        ]
        made = finding(context, rule, str(start), "noted", values, why, bloom.proof)
        found.append(made | {"opens": gap_from, "closes": gap_to})
    return found


@dataclass
class Bloom:
    """Since when flowers may be open, and what says so; nothing does when it is only assumed."""

    day: int
    proof: list[Event]


def _bloom(context: Context, rule: Rule) -> Bloom | None:
    """The first bloom that was noted, else so many days after planting out."""
    planting = context.view["planting"]
    if has_ended(planting, context.today):
        return None
    for event in find_for(context, {"kind": "stage"}, planting):
        code = number(event["details"].get("bbch"))
        is_open = code is not None and FIRST_FLOWER_OPEN <= code <= LAST_STAGE
        if is_open or event["details"].get("first_bloom") is True:
            return Bloom(event["day"], [event])
    planted = planting.get("transplanted_day")
    if planted is None:
        return None
    return Bloom(planted + days(context, rule, "bloom_after_days"), [])


def _bloom_reason(bloom: Bloom) -> Reason:
    seen = "fruit_set.bloom_seen" if bloom.proof else "fruit_set.bloom_assumed"
    return reason(seen, bloom_day=bloom.day)


def _limits(context: Context, rule: Rule, strength: str) -> Limits:
    names = ("low_night_c", "high_night_c", "high_day_c")
    low_night, high_night, high_day = (
        limit(context, rule, f"{strength}{name}") or 0 for name in names
    )
    return Limits(low_night, high_night, high_day)


def _is_past(one: Day, limits: Limits) -> bool:
    if one.low_c is None or one.high_c is None:
        return False
    is_bad_night = one.low_c < limits.low_night or one.low_c > limits.high_night
    return is_bad_night or one.high_c > limits.high_day


def _count(context: Context, rule: Rule, air: Sequence[Day]) -> Count:
    outer, strong = _limits(context, rule, ""), _limits(context, rule, "strong_")
    count, run = Count(), 0
    past: list[int] = []
    for one in air:
        is_strong = _is_past(one, strong)
        past.append(1 if is_strong else 0)
        run = run + 1 if is_strong else 0
        count.longest_run = max(count.longest_run, run)
        in_week = 0
        for day in past[-WEEK:]:
            in_week += day
        count.most_in_week = max(count.most_in_week, in_week)
        count.strong += past[-1]
        count.missing += 1 if one.how == "missing" else 0
        count.filled += 1 if one.how == "filled" else 0
        if one.low_c is None or one.high_c is None:
            continue
        count.cold_nights += 1 if one.low_c < outer.low_night else 0
        count.warm_nights += 1 if one.low_c > outer.high_night else 0
        count.hot_days += 1 if one.high_c > outer.high_day else 0
        count.risk += 1 if is_strong or _is_past(one, outer) else 0
    return count


def _is_strong(context: Context, rule: Rule, count: Count) -> bool:
    run = max(limit(context, rule, "flag_run_days") or 0, 1)
    in_week = max(limit(context, rule, "flag_week_days") or 0, 1)
    return count.longest_run >= run or count.most_in_week >= in_week


def _limit_reasons(context: Context, rule: Rule, count: Count) -> list[Reason]:
    outer, strong = _limits(context, rule, ""), _limits(context, rule, "strong_")
    why = [
        reason("fruit_set.cold", cold_nights=count.cold_nights, low_night_c=outer.low_night),
        reason("fruit_set.warm", warm_nights=count.warm_nights, high_night_c=outer.high_night),
        reason("fruit_set.hot", hot_days=count.hot_days, high_day_c=outer.high_day),
        reason(
            "fruit_set.strong_limits",
            strong_days=count.strong,
            low_night_c=strong.low_night,
            high_night_c=strong.high_night,
            high_day_c=strong.high_day,
        ),
    ]
    if count.filled > 0:
        why.append(reason("fruit_set.filled", filled=count.filled))
    return why


def _runs(air: Sequence[Day], limits: Limits) -> Iterator[tuple[int, int]]:
    """First and last day of each unbroken run of days past the limits that has ended."""
    start: int | None = None
    for one in air:
        if _is_past(one, limits):
            start = one.day if start is None else start
        elif start is not None:
            yield start, one.day - 1
            start = None
