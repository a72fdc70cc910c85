"""What the log says of the last days' weather, as plain counts.

None where nothing was written down that could say so: no thermometer is not the same as no heat.
"""

from collections.abc import Mapping, Sequence
from typing import Any

Json = Mapping[str, Any]
Features = dict[str, float | None]

# Counted as a day of wet leaves (common practice, no source).
RAIN_THAT_WETS_MM = 1
HOURS_THAT_COUNT = 6
# Degrees above or below which a day or night counts (common practice, no source).
WARM_DAY_C = 24
HOT_DAY_C = 32
HOT_NIGHT_C = 21
COOL_NIGHT_C = 15
COLD_NIGHT_C = 8
HUMID_PERCENT = 90
# A rain gauge that was read within these days before the window is one that is kept.
GAUGE_KEPT_DAYS = 10

FEATURES = (
    "wet_leaf_days",
    "rain_mm",
    "overhead_waterings",
    "dry_gap_days",
    "warm_days",
    "hot_days",
    "hot_nights",
    "cool_nights",
    "cold_nights",
    "humid_days",
)


def weather_features(events: Sequence[Json], bed: Json | None, today: int, days: int) -> Features:
    """The features of the days up to today, from a view's events."""
    first = today - days + 1
    past = [event for event in events if event["day"] <= today]
    recent = [event for event in past if event["day"] >= first]
    usual = bed.get("water_method") if bed is not None else None
    water = [event for event in recent if event["kind"] == "water"]
    overhead = {event["day"] for event in water if _method(event, usual) == "overhead"}
    return {
        **_wetness(past, first, overhead),
        "overhead_waterings": float(len(overhead)) if water else None,
        "dry_gap_days": _dry_gap(past, first, today),
        **_temperatures(recent),
        "humid_days": _humid(recent),
    }


def stage_of(planting: Json | None) -> str | None:
    """seedling before it is out, fruiting once picked; in between the log does not say."""
    if planting is None:
        return None
    if planting.get("from_day") is None:
        return "seedling"
    return "fruiting" if planting.get("first_pick_day") is not None else None


def _wetness(past: list[Json], first: int, overhead: set[int]) -> Features:
    """Days of wet leaves, and the rain; a gauge that is kept reads nothing on a dry day."""
    kept = first - GAUGE_KEPT_DAYS
    rain = [event for event in past if _has_rained(event) and event["day"] >= kept]
    wetness = [event for event in past if event["kind"] == "leaf_wetness" and event["day"] >= kept]
    wet = set(overhead)
    fallen = 0.0
    for event in rain:
        depth = _depth(event) or 0
        if event["day"] >= first:
            fallen += depth
            if depth >= RAIN_THAT_WETS_MM:
                wet.add(event["day"])
    wet |= {event["day"] for event in wetness if event["day"] >= first and _was_wet(event)}
    return {
        "wet_leaf_days": float(len(wet)) if rain or wetness else None,
        "rain_mm": fallen if rain else None,
    }


def _has_rained(event: Json) -> bool:
    return event["kind"] == "rain" and _depth(event) is not None


def _was_wet(event: Json) -> bool:
    hours = _number(event["details"].get("hours"))
    return event["details"].get("wet") is True or (hours is not None and hours >= HOURS_THAT_COUNT)


def _dry_gap(past: list[Json], first: int, today: int) -> float | None:
    """The most days in a row without water or rain, from the first watering that was logged on."""
    given = {event["day"] for event in past if event["kind"] == "water"}
    if not given:
        return None
    start = max(first, min(given))
    given |= {
        event["day"]
        for event in past
        if event["kind"] == "rain" and (_depth(event) or 0) >= RAIN_THAT_WETS_MM
    }
    longest = run = 0
    for day in range(start, today + 1):
        run = 0 if day in given else run + 1
        longest = max(longest, run)
    return float(longest)


def _temperatures(recent: list[Json]) -> Features:
    """Days and nights past a limit; readings of one day are joined."""
    lows: dict[int, float] = {}
    highs: dict[int, float] = {}
    for event in recent:
        if event["kind"] != "air_temperature":
            continue
        low = _number(event["details"].get("low_c"))
        high = _number(event["details"].get("high_c"))
        if low is not None:
            lows[event["day"]] = min(low, lows.get(event["day"], low))
        if high is not None:
            highs[event["day"]] = max(high, highs.get(event["day"], high))
    return {
        "warm_days": _count(highs, WARM_DAY_C, is_above=True),
        "hot_days": _count(highs, HOT_DAY_C, is_above=True),
        "hot_nights": _count(lows, HOT_NIGHT_C, is_above=True),
        "cool_nights": _count(lows, COOL_NIGHT_C, is_above=False),
        "cold_nights": _count(lows, COLD_NIGHT_C, is_above=False),
    }


def _count(readings: Mapping[int, float], limit: float, *, is_above: bool) -> float | None:
    if not readings:
        return None
    past = [c for c in readings.values() if (c >= limit if is_above else c <= limit)]
    return float(len(past))


def _humid(recent: list[Json]) -> float | None:
    told = {
        event["day"]: value
        for event in recent
        if event["kind"] == "day_weather"
        and (value := _number(event["details"].get("humidity_high_percent"))) is not None
    }
    return _count(told, HUMID_PERCENT, is_above=True)


def _method(event: Json, usual: Any) -> Any:
    told = event["details"].get("method")
    return told if isinstance(told, str) else usual


def _depth(event: Json) -> float | None:
    return _number(event["details"].get("depth_mm"))


def _number(value: Any) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return value
