"""How warm the seed of one sowing lay, day by day, from the readings that were taken there.

In the ground a reading of the planting goes before one of its bed, and that before one of the
whole garden. Of a tray only its own readings count: its soil, or else the mean of its air. Between
two readings the temperature is drawn on a straight line, after the last one it is held, for so
many days as the row says.
"""

from dataclasses import dataclass

from shedbook.rules.daily import COLDEST_C, FARTHEST, WARMEST_C, events_in_days
from shedbook.rules.match import Context, Event, Planting, number


@dataclass(frozen=True)
class Warmth:
    """Mean temperature by day of reading, and what was read: soil or air."""

    days: list[int]
    temps_c: list[float]
    what: str


def seed_warmth(context: Context, planting: Planting, sow: Event, held_days: int) -> Warmth:
    """The readings around the seed up to today, with those shortly before the sowing."""
    first, last = sow["day"] - held_days, context.today
    in_ground = sow["details"].get("place") == "direct"
    soil: dict[int, tuple[int, list[float]]] = {}
    _take(soil, sow["day"], 0, _read(sow, "soil_c"))
    for event in events_in_days(context, "soil_temperature", first, last):
        near = _nearness(event, planting)
        if near is not None and (in_ground or near == 0):
            _take(soil, event["day"], near, _read(event, "temperature_c"))
    if soil or in_ground:
        return _warmth(soil, "soil")
    air: dict[int, tuple[int, list[float]]] = {}
    for event in events_in_days(context, "air_temperature", first, last):
        low, high = _read(event, "low_c"), _read(event, "high_c")
        if event.get("planting") == planting["id"] and low is not None and high is not None:
            _take(air, event["day"], 0, (low + high) / 2)
    return _warmth(air, "air")


def temperature_on(warmth: Warmth, day: int, held_days: int) -> float | None:
    """The temperature of one day; None where the nearest reading is too far."""
    before: int | None = None
    after: int | None = None
    for at, read_day in enumerate(warmth.days):
        if read_day <= day:
            before = at
        elif after is None:
            after = at
    if before is None:
        return _held(warmth, after, day, held_days)
    if after is None or warmth.days[before] == day:
        return _held(warmth, before, day, held_days)
    start, end = warmth.days[before], warmth.days[after]
    if end - start - 1 > held_days:
        return None
    share = (day - start) / (end - start)
    return warmth.temps_c[before] + (warmth.temps_c[after] - warmth.temps_c[before]) * share


def _held(warmth: Warmth, at: int | None, day: int, held_days: int) -> float | None:
    if at is None:
        return None
    away = day - warmth.days[at]
    away = -away if away < 0 else away
    return warmth.temps_c[at] if away <= held_days else None


def _nearness(event: Event, planting: Planting) -> int | None:
    """0 at the planting, 1 at its bed, 2 anywhere in the garden; None at another place."""
    if "planting" in event:
        return 0 if event["planting"] == planting["id"] else None
    if "bed" not in event:
        return FARTHEST
    return 1 if event["bed"] == planting.get("bed") else None


def _read(event: Event, field: str) -> float | None:
    value = number(event["details"].get(field))
    return value if value is not None and COLDEST_C <= value <= WARMEST_C else None


def _take(
    read: dict[int, tuple[int, list[float]]], day: int, near: int, temp_c: float | None
) -> None:
    """Keep a reading, unless a nearer one of its day is known; as near ones are averaged."""
    known = read.get(day)
    if temp_c is None or (known is not None and known[0] < near):
        return
    if known is None or near < known[0]:
        read[day] = (near, [temp_c])
    else:
        known[1].append(temp_c)


def _warmth(read: dict[int, tuple[int, list[float]]], what: str) -> Warmth:
    days = sorted(read)
    return Warmth(days, [_mean(read[day][1]) for day in days], what)


def _mean(temps_c: list[float]) -> float:
    total = 0.0
    for temp_c in temps_c:
        total += temp_c
    return total / len(temps_c)
