"""The weather of a subject day by day: air with its gaps filled by a stated method, and rain.

Readings of one day are joined: the lowest low, the highest high. A reading of the planting goes
before one of its bed, and that before one of the whole garden. Lows and highs of up to FILL_DAYS
days without a reading are drawn on a straight line between their neighbours; where the readings
begin or end, the nearest one is held for as long. A longer gap is missing.
"""

from collections.abc import Iterator
from typing import NamedTuple

from shedbook.rules.match import Context, Event, Planting, number, since

DAY_S = 86_400
# A local day begins and ends at most this long before or after the same day at Greenwich.
FURTHEST_ZONE_S = 14 * 3600
FILL_DAYS = 5
# Rain that is written down at all is taken to be written down whenever it falls.
RAIN_KEPT_DAYS = 10
COLDEST_C, WARMEST_C = -60, 60
# Nearness of a reading: of the planting, of its bed, of the garden.
FARTHEST = 2


class Day(NamedTuple):
    """The air of one day; `how` is measured, filled or missing."""

    day: int
    low_c: float | None
    high_c: float | None
    how: str


def daily_air(
    context: Context,
    planting: Planting | None,
    first_day: int,
    last_day: int,
    fill_days: int = FILL_DAYS,
) -> list[Day]:
    """Low and high of each day of the span, around a planting or around the view's bed."""
    place = "" if planting is None else planting["id"]
    key = f"air/{place}/{first_day}/{last_day}/{fill_days}"
    if key not in context.known:
        context.known[key] = _air(context, planting, first_day, last_day, fill_days)
    known: list[Day] = context.known[key]
    return known


def daily_rain(context: Context, first_day: int, last_day: int) -> list[float | None]:
    """Millimetres of rain on each day of the span; None where no gauge was being read.

    A reading counts on its day. A day without one had no rain if the gauge was read within ten
    days before or after it.
    """
    key = f"rain/{first_day}/{last_day}"
    if key not in context.known:
        context.known[key] = _rain(context, first_day, last_day)
    known: list[float | None] = context.known[key]
    return known


def events_in_days(context: Context, kind: str, first_day: int, last_day: int) -> Iterator[Event]:
    """The kind's events on the days of the span, earliest first."""
    events = context.by_kind.get(kind, [])
    ends = (last_day + 1) * DAY_S + FURTHEST_ZONE_S
    for at in range(since(events, first_day * DAY_S - FURTHEST_ZONE_S), len(events)):
        if events[at]["instant"] >= ends:
            return
        if first_day <= events[at]["day"] <= last_day:
            yield events[at]


def _air(
    context: Context, planting: Planting | None, first_day: int, last_day: int, fill_days: int
) -> list[Day]:
    around = fill_days + 1
    read = _readings(context, planting, first_day - around, last_day + around)
    start = min([first_day, *read])
    days = range(start, max([last_day, *read]) + 1)
    lows = _fill([read[day][1] if day in read else None for day in days], fill_days)
    highs = _fill([read[day][2] if day in read else None for day in days], fill_days)
    return [
        _joined(day, lows[day - start], highs[day - start], read.get(day))
        for day in range(first_day, last_day + 1)
    ]


# How near the reading was taken, its low and its high.
_Reading = tuple[int, float | None, float | None]


def _readings(
    context: Context, planting: Planting | None, first_day: int, last_day: int
) -> dict[int, _Reading]:
    """What was read on each day at the nearest place; a low above the high tells nothing."""
    read: dict[int, _Reading] = {}
    for event in events_in_days(context, "air_temperature", first_day, last_day):
        near = _nearness(context, event, planting)
        known = read.get(event["day"])
        if near is None or (known is not None and near > known[0]):
            continue
        low, high = (_temperature(event, field) for field in ("low_c", "high_c"))
        if known is not None and near == known[0]:
            low = known[1] if low is None else low if known[1] is None else min(low, known[1])
            high = known[2] if high is None else high if known[2] is None else max(high, known[2])
        if low is not None or high is not None:
            read[event["day"]] = (near, low, high)
    return {
        day: one
        for day, one in read.items()
        if one[1] is None or one[2] is None or one[1] <= one[2]
    }


def _nearness(context: Context, event: Event, planting: Planting | None) -> int | None:
    """0 at the planting, 1 at its bed, 2 anywhere in the garden; None at another place."""
    if "planting" in event:
        return 0 if planting is not None and event["planting"] == planting["id"] else None
    if "bed" not in event:
        return FARTHEST
    own_bed = context.view["subject"].get("bed") if planting is None else planting.get("bed")
    return 1 if event["bed"] == own_bed else None


def _temperature(event: Event, field: str) -> float | None:
    value = number(event["details"].get(field))
    return value if value is not None and COLDEST_C <= value <= WARMEST_C else None


def _fill(values: list[float | None], most: int) -> list[float | None]:
    """The values with every gap of at most so many days drawn between its neighbours."""
    filled = list(values)
    before = -1
    for at in range(len(values) + 1):
        if at < len(values) and values[at] is None:
            continue
        gap = at - before - 1
        if 0 < gap <= most:
            left = values[before] if before >= 0 else None
            right = values[at] if at < len(values) else None
            for inside in range(before + 1, at):
                filled[inside] = _between(left, right, (inside - before) / (gap + 1))
        before = at
    return filled


def _between(left: float | None, right: float | None, share: float) -> float | None:
    if left is None:
        return right
    return left if right is None else left + (right - left) * share


def _joined(day: int, low: float | None, high: float | None, read: _Reading | None) -> Day:
    """A day's air; what was filled in gives way to what was read."""
    if low is None or high is None:
        return Day(day, None, None, "missing")
    if read is not None and read[1] is not None and read[2] is not None:
        return Day(day, low, high, "measured")
    if low > high and read is not None and read[2] is not None:
        return Day(day, high, high, "filled")
    return Day(day, low, max(low, high), "filled")


def _rain(context: Context, first_day: int, last_day: int) -> list[float | None]:
    fallen = _fallen(context, first_day - RAIN_KEPT_DAYS, last_day + RAIN_KEPT_DAYS)
    days = sorted(fallen)
    found: list[float | None] = []
    following = 0
    for day in range(first_day, last_day + 1):
        while following < len(days) and days[following] <= day:
            following += 1
        is_kept = (following > 0 and day - days[following - 1] <= RAIN_KEPT_DAYS) or (
            following < len(days) and days[following] - day <= RAIN_KEPT_DAYS
        )
        found.append(fallen[day][1] if day in fallen else 0 if is_kept else None)
    return found


def _fallen(context: Context, first_day: int, last_day: int) -> dict[int, tuple[int, float]]:
    """What the nearest gauge caught on each day that one was read."""
    fallen: dict[int, tuple[int, float]] = {}
    for event in events_in_days(context, "rain", first_day, last_day):
        near = _nearness(context, event, None)
        depth = number(event["details"].get("depth_mm"))
        if near is None or depth is None or depth < 0:
            continue
        known = fallen.get(event["day"], (FARTHEST + 1, 0))
        if near < known[0]:
            fallen[event["day"]] = (near, depth)
        elif near == known[0]:
            fallen[event["day"]] = (near, known[1] + depth)
    return fallen
