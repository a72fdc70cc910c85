"""Weather of the season: temperatures every morning, rain when it fell, soil now and then."""

from datetime import date

from seed_demo.draft import HELPER, LEAD, Season
from seed_demo.place import LATITUDE_DEG
from shedbook.agronomy.hargreaves import extraterrestrial_radiation, hargreaves_et0

# Lowest and highest of a day in the middle of the season.
_USUAL_C = (17.0, 29.0)

# Days ago and depth. The last weeks were dry, which the gauge says too.
RAIN_MM = {
    104: 6.0,
    97: 11.5,
    93: 3.0,
    88: 18.0,
    81: 7.5,
    74: 4.0,
    69: 9.0,
    63: 2.5,
    58: 14.0,
    52: 5.5,
    47: 1.5,
    41: 8.0,
    36: 3.5,
    30: 12.0,
    25: 0,
    20: 0,
    15: 0,
    10: 0,
    5: 0,
    1: 0,
}


def thirst_mm(day: date) -> float:
    """About what short grass takes on a day of this warmth, under the sun of that day."""
    sun = extraterrestrial_radiation(LATITUDE_DEG, day.timetuple().tm_yday)
    return hargreaves_et0(*_USUAL_C, sun)


def write_weather(season: Season) -> None:
    """One reading each morning, gaps where nobody looked."""
    chance = season.chance
    for days in range(110, 0, -1):
        warmth = 20 + (110 - days) * 0.06
        low = round(warmth - 9 + 5 * chance.random(), 1)
        high = round(warmth + 2 + 6 * chance.random(), 1)
        if chance.random() < 0.93:
            season.tap(
                season.at(days, 20, 10 + chance.randrange(20)),
                "air_temperature",
                {"low_c": low, "high_c": high},
                phone=HELPER if days % 3 == 0 else LEAD,
            )
        if days % 5 == 0:
            station = {"humidity_low_percent": 45, "humidity_high_percent": 90, "wind_m_s": 1.6}
            season.tap(season.at(days, 20, 40), "day_weather", station)
        if days in RAIN_MM:
            season.tap(season.at(days, 19, 50), "rain", {"depth_mm": RAIN_MM[days]})
            if RAIN_MM[days]:
                season.tap(season.at(days, 19, 55), "leaf_wetness", {"hours": 6})
        if days % 7 == 3:
            season.tap(
                season.at(days, 8, 5),
                "soil_temperature",
                {"temperature_c": round(warmth - 4 + chance.random(), 1), "depth_mm": 100},
                bed="Gate bed",
            )
