"""A season's soil water against pyfao56 1.4 (Thorp 2022), day by day.

pyfao56 keeps the dual account of FAO-56, in which bare soil evaporates for itself. Its store for
that is set so that nothing evaporates from it; then its transpiration is the single account. The
weather is Fallon's summer of 2015, with rain and watering on made-up days.
"""

import datetime
import math

import pytest
from pyfao56 import Irrigation, Model, Parameters, Weather

from shedbook.agronomy.crop_stage import crop_coefficient, root_depth
from shedbook.agronomy.soil_water import depletion_fraction, total_available_water, water_day
from tests.published.tables import rows_of

FIRST = datetime.date(2015, 5, 10)
DAYS = 130
STAGES = [30, 35, 40, 20]
# Sweet pepper, tables 17 and 22; a silt as in example 36.
KC = (0.15, 1.00, 0.80)
ROOTS_M = (0.25, 0.75)
P = 0.30
FIELD_CAPACITY, WILTING_POINT, AT_PLANTING = 0.32, 0.15, 0.27
# Nothing evaporates from a store that is as good as empty.
NO_EVAPORATION_MM = -1e12
RAIN_MM = {3: 2.0, 11: 18.5, 12: 6.0, 40: 30.0, 41: 0.8, 77: 12.0}
WATER_MM = {20: 15.0, 33: 20.0, 52: 25.0, 60: 22.0, 68: 30.0, 90: 60.0, 104: 18.0}
WEATHER = {
    (int(row["month"]), int(row["day"])): {name: float(cell) for name, cell in row.items()}
    for row in rows_of("fallon_2015_ref_et.csv")
}


def key_of(day: int) -> str:
    date = FIRST + datetime.timedelta(days=day)
    return date.strftime("%Y-%j")


def et0_of(day: int) -> float:
    date = FIRST + datetime.timedelta(days=day)
    return WEATHER[date.month, date.day]["et0_mm"]


def by_pyfao56() -> list[dict[str, float]]:
    """The library's account: Ks, what was taken, drainage and depletion of each day."""
    weather = Weather()
    weather.rfcrp, weather.wndht = "S", 2.0
    for day in range(DAYS):
        told = {"Tmax": 25.0, "Tmin": 15.0, "RHmin": 45.0, "Wndsp": 2.0, "ETref": et0_of(day)}
        told |= {"Rain": RAIN_MM.get(day, 0.0)}
        weather.wdata.loc[key_of(day)] = [told.get(name, math.nan) for name in weather.cnames]
    water = Irrigation()
    for day, depth in WATER_MM.items():
        date = FIRST + datetime.timedelta(days=day)
        water.addevent(date.year, date.timetuple().tm_yday, depth, 1.0, 100.0)
    soil_and_crop = Parameters(
        Kcbini=KC[0], Kcbmid=KC[1], Kcbend=KC[2],
        Lini=STAGES[0], Ldev=STAGES[1], Lmid=STAGES[2], Lend=STAGES[3],
        thetaFC=FIELD_CAPACITY, thetaWP=WILTING_POINT, theta0=AT_PLANTING,
        Zrini=ROOTS_M[0], Zrmax=ROOTS_M[1], pbase=P, REW=NO_EVAPORATION_MM,
    )  # fmt: skip
    model = Model(key_of(0), key_of(DAYS - 1), soil_and_crop, weather, irr=water)
    model.run()
    return [
        {"ks": row.Ks, "taken": row.ETa, "drained": row.DP, "depletion": row.Dr}
        for row in model.odata.itertuples()
    ]


def by_us() -> list[dict[str, float]]:
    depletion = 1000 * (FIELD_CAPACITY - AT_PLANTING) * ROOTS_M[0]
    days = []
    for day in range(DAYS):
        taw = total_available_water(
            FIELD_CAPACITY, WILTING_POINT, root_depth(*ROOTS_M, STAGES, day)
        )
        wanted = crop_coefficient(*KC, STAGES, day) * et0_of(day)
        share = depletion_fraction(P, wanted)
        rain, water = RAIN_MM.get(day, 0.0), WATER_MM.get(day, 0.0)
        found = water_day(depletion, taw, share, rain, water, wanted)
        depletion = found.depletion_mm
        days.append(
            {
                "ks": found.ks,
                "taken": found.etc_adjusted_mm,
                "drained": found.drainage_mm,
                "depletion": found.depletion_mm,
            }
        )
    return days


def test_every_day_of_the_season_agrees_with_pyfao56(capsys: pytest.CaptureFixture[str]) -> None:
    pairs = list(zip(by_us(), by_pyfao56(), strict=True))
    largest = {name: max(abs(us[name] - they[name]) for us, they in pairs) for name in pairs[0][0]}
    with capsys.disabled():
        told = ", ".join(f"{name} {value:.1e}" for name, value in largest.items())
        print(f"\n{DAYS} days of soil water against pyfao56, largest differences: {told}")
    # The season has both stress and drainage, or agreeing would show little.
    assert min(us["ks"] for us, _ in pairs) < 0.7
    assert sum(us["drained"] for us, _ in pairs) > 10
    # pyfao56 adds the coefficient's daily step up where we multiply, so the last digits drift.
    assert max(largest.values()) < 1e-6
