"""What a season's air asked for: reference evapotranspiration, by every way that the data allow.

The water account of a bed uses Hargreaves, which needs a thermometer and the latitude alone and is
the same on the phone. Where a station also told of humidity, wind or sun, Penman-Monteith says how
far that was off.
"""

from collections import Counter
from typing import Any

from shedbook.agronomy.errors import AgronomyError
from shedbook.agronomy.hargreaves import extraterrestrial_radiation, hargreaves_et0
from shedbook.agronomy.penman_monteith import Place, ReferenceDay, Weather, reference_day
from shedbook.log.ledger import Ledger
from shedbook.log.moment import day_number
from shedbook.rules.daily import DAY_S, daily_air, events_in_days
from shedbook.rules.match import Context, context_of, number

Json = dict[str, Any]

# The names of a station's entry beside those of the formula.
STATION = {
    "dew_point_c": "dew_point_c",
    "humidity_low_percent": "humidity_low_percent",
    "humidity_high_percent": "humidity_high_percent",
    "wind_m_s": "wind_m_s",
    "wind_height_m": "wind_height_m",
    "sunshine_hours": "sunshine_h",
    "radiation_mj_m2": "radiation_mj",
}


def thirst(ledger: Ledger, season: int) -> Json | None:
    """Sums of the season in mm; None without a latitude or a single measured day.

    `penman_mm` and `same_days_mm` are over the `station_days`, `hargreaves_mm` over all `days`;
    `estimated` counts the days on which an input of Penman-Monteith was estimated.
    """
    settings = ledger.settings()
    latitude = number(settings.get("latitude_deg"))
    if latitude is None:
        return None
    place = Place(latitude, number(settings.get("elevation_m")) or 0)
    told: Json = {"days": 0, "hargreaves_mm": 0.0, "station_days": 0}
    told |= {"penman_mm": 0.0, "same_days_mm": 0.0}
    estimated: Counter[str] = Counter()
    for day, weather in _measured(ledger, season).items():
        day_of_year = day - day_number(season, 1, 1) + 1
        try:
            simple = _simple(weather, latitude, day_of_year)
            told["days"] += 1
            told["hargreaves_mm"] += simple
            full = _full(weather, place, day_of_year)
        except AgronomyError:
            # A figure that no formula takes is left out, with its day.
            continue
        if full is not None:
            told["station_days"] += 1
            told["penman_mm"] += full.et0_mm
            told["same_days_mm"] += simple
            estimated.update(full.estimated)
    return told | {"estimated": dict(sorted(estimated.items()))} if told["days"] else None


def _simple(weather: Json, latitude: float, day_of_year: int) -> float:
    radiation = extraterrestrial_radiation(latitude, day_of_year)
    return hargreaves_et0(weather["low_c"], weather["high_c"], radiation)


def _full(weather: Json, place: Place, day_of_year: int) -> ReferenceDay | None:
    """By Penman-Monteith, where a station told of the day."""
    if len(weather) == len(("low_c", "high_c")):
        return None
    return reference_day(Weather(**weather), place, day_of_year)


def _measured(ledger: Ledger, season: int) -> dict[int, Json]:
    """The days of the season on which both temperatures were read, with what a station added."""
    first, last = day_number(season, 1, 1), day_number(season, 12, 31)
    context = _of_garden(ledger, last)
    days: dict[int, Json] = {
        one.day: {"low_c": one.low_c, "high_c": one.high_c}
        for one in daily_air(context, None, first, last, fill_days=0)
        if one.how == "measured"
    }
    for event in events_in_days(context, "day_weather", first, last):
        if event["day"] in days:
            told = {ours: number(event["details"].get(theirs)) for theirs, ours in STATION.items()}
            days[event["day"]] |= {name: size for name, size in told.items() if size is not None}
    return days


def _of_garden(ledger: Ledger, last: int) -> Context:
    """The weather of the whole garden, as rules read it, up to the day after the last."""
    view: Json = {"kind": "bed", "subject": {}, "bed": None, "planting": None}
    view |= {"settings": ledger.settings(), "residents": [], "neighbours": []}
    return context_of(view | {"events": ledger.weather()}, {}, last, (last + 1) * DAY_S)
