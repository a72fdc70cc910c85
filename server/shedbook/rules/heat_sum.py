"""Degree days that add up from a day on: the sum, the days without weather, and the pace."""

import math
from dataclasses import dataclass, field
from typing import NamedTuple

from shedbook.agronomy.degree_days import average, modified_average, single_sine
from shedbook.rules.finding import Reason, reason
from shedbook.rules.match import Context, Rule, limit, number
from shedbook.rules.past_air import past_air

# A sum of many small numbers may miss a round figure by its last bits.
HAIR = 1e-9
PACE_DAYS = 7
WARMEST_C = 60


class Thresholds(NamedTuple):
    """Between what temperatures a day counts, and by which method."""

    method: str
    lower_c: float
    upper_c: float | None


@dataclass
class HeatSum:
    """What added up from the first day to yesterday."""

    thresholds: Thresholds
    first_day: int
    last_day: int
    # One for each day of the span: the sum so far and the days without weather so far.
    totals: list[float] = field(default_factory=list)
    missing: list[int] = field(default_factory=list)
    missing_days: list[int] = field(default_factory=list)
    filled: int = 0


def celsius(fahrenheit: float) -> float:
    """A temperature that its source gives in degrees Fahrenheit."""
    return (fahrenheit - 32) * 5 / 9


def celsius_days(fahrenheit_days: float) -> float:
    """A sum that its source gives in Fahrenheit degree days."""
    return fahrenheit_days * 5 / 9


def thresholds_of(context: Context, rule: Rule) -> Thresholds | None:
    """The row's thresholds, or the garden's own; None if no day could count between them."""
    lower, upper = (_threshold(context, rule, name) for name in ("lower", "upper"))
    return usable(rule["params"].get("method", "modified"), lower, upper)


def usable(method: str, lower_c: float | None, upper_c: float | None) -> Thresholds | None:
    """The thresholds, None if they are missing or leave no room between them."""
    if lower_c is None or not 0 <= lower_c < WARMEST_C:
        return None
    if upper_c is not None and not lower_c < upper_c <= WARMEST_C:
        return None
    return Thresholds(method, lower_c, upper_c)


def _threshold(context: Context, rule: Rule, name: str) -> float | None:
    chosen = limit(context, rule, f"{name}_c")
    published = number(rule["params"].get(f"{name}_f"))
    return celsius(published) if chosen is None and published is not None else chosen


def add_up(context: Context, thresholds: Thresholds, first_day: int) -> HeatSum:
    """The sum over the days from the first to yesterday; a day without weather adds nothing."""
    heat = HeatSum(thresholds, first_day, context.today - 1)
    total = 0.0
    for one in past_air(context, first_day):
        if one.low_c is None or one.high_c is None:
            heat.missing_days.append(one.day)
        else:
            total += _degrees(thresholds, one.low_c, one.high_c)
            heat.filled += 1 if one.how == "filled" else 0
        heat.totals.append(total)
        heat.missing.append(len(heat.missing_days))
    return heat


def _degrees(thresholds: Thresholds, low_c: float, high_c: float) -> float:
    method, lower_c, upper_c = thresholds
    if method == "sine":
        return single_sine(low_c, high_c, lower_c, upper_c)
    if method == "modified":
        return modified_average(low_c, high_c, lower_c, upper_c)
    if upper_c is None:
        return average(low_c, high_c, lower_c)
    return average(min(low_c, upper_c), min(high_c, upper_c), lower_c)


def day_reached(heat: HeatSum, wanted: float, most_missing: float) -> int | None:
    """The day that completed the sum, if few enough days before it went without weather."""
    for at, total in enumerate(heat.totals):
        if heat.missing[at] > most_missing:
            return None
        if total >= wanted - HAIR:
            return heat.first_day + at
    return None


def pace(heat: HeatSum) -> float:
    """Degree days a day over the last week of the span that had weather."""
    counted = min(PACE_DAYS, len(heat.totals))
    if counted == 0:
        return 0.0
    before = len(heat.totals) - counted
    earlier = heat.totals[before - 1] if before > 0 else 0.0
    lost = heat.missing[-1] - (heat.missing[before - 1] if before > 0 else 0)
    return (heat.totals[-1] - earlier) / (counted - lost) if counted > lost else 0.0


def day_ahead(heat: HeatSum, wanted: float) -> int | None:
    """The day that would complete the sum at the pace of the last week; None at a standstill."""
    a_day = pace(heat)
    if a_day <= HAIR:
        return None
    days = (wanted - heat.totals[-1]) / a_day - HAIR
    return heat.last_day - math.floor(-days) if days < PACE_DAYS * 100 else None


def heat_reasons(heat: HeatSum, wanted: float) -> list[Reason]:
    """How the sum was counted and how far it is."""
    method, lower_c, upper_c = heat.thresholds
    counted: dict[str, object] = {
        "start_day": heat.first_day,
        "lower_c": lower_c,
        "heat_method": method,
    }
    if upper_c is None:
        why = [reason("heat.from", **counted)]
    else:
        why = [reason("heat.between", **counted, upper_c=upper_c)]
    total = heat.totals[-1] if heat.totals else 0.0
    why.append(reason("heat.sum", sum_c_days=total, wanted_c_days=wanted, to_day=heat.last_day))
    if heat.filled > 0:
        why.append(reason("heat.filled", filled=heat.filled, of=len(heat.totals)))
    if heat.missing_days:
        why.append(missing_reason(heat))
    return why


def missing_reason(heat: HeatSum) -> Reason:
    """Which days went without weather."""
    return reason(
        "heat.missing",
        missing=len(heat.missing_days),
        first_day=heat.missing_days[0],
        last_day=heat.missing_days[-1],
    )


def pace_reason(heat: HeatSum, due: int) -> Reason:
    """How a day still to come was reckoned."""
    counted = min(PACE_DAYS, len(heat.totals))
    return reason("heat.pace", pace_c_days=pace(heat), pace_days=counted, due_day=due)
