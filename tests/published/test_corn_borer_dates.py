"""European corn borer by degree days: Apple's sums, and the numbers that others print with them.

Sums were printed in Fahrenheit degree days; the tolerance is that of floating point, because the
conversion by 5/9 is exact.
"""

from typing import Any

import pytest

from shedbook.agronomy.degree_days import modified_average
from shedbook.rules.evaluate import evaluate
from shedbook.rules.heat_sum import celsius, celsius_days
from shedbook.rules.milestones import sum_of
from shedbook.rules.rows import load_rows
from shedbook.rules.rulebook import build_rulebook

DAY_S = 86_400
NEW_YEAR = 20_454
ROWS = load_rows()

# Apple JW, University of Wisconsin–Madison: critical values, modified base 50 °F.
APPLE = {
    "first_spring_moths": 374,
    "first_spring_eggs": 450,
    "most_spring_moths": 631,
    "first_summer_moths": 1400,
    "first_summer_eggs": 1450,
    "first_summer_hatch": 1550,
    "most_summer_moths": 1733,
}
# Steffey K, 14 May 1999, University of Illinois: heat units after the first moth of spring.
STEFFEY = {"first_instar": 212, "second_instar": 318, "third_instar": 435}
# South Dakota State University 2024, base 39 °F; Delahaut 2015, base 43 °F.
OTHERS = [
    ("seedcorn_maggot_dates", "first_flies_peak", 360),
    ("seedcorn_maggot_dates", "second_flies_peak", 1080),
    ("seedcorn_maggot_dates", "third_flies_peak", 1800),
    ("cabbage_maggot_dates", "first_flies", 300),
    ("cabbage_maggot_dates", "second_flies", 1476),
    ("cabbage_maggot_dates", "third_flies", 2652),
]
# 85 by day and 60 °F by night: Iowa State University, 28 June 1999.
IOWA_LOW_C, IOWA_HIGH_C = celsius(60), celsius(85)


def told(rule: str, day: int, **change: Any) -> dict[str, dict[str, Any]]:
    """What is told of each milestone on a day, after days of 60 to 85 °F from the new year on."""
    planting = {"id": "p1", "hidden": False, "removed": {}, "standing": True, "bed": "b1"}
    planting |= {"crop": ROWS[rule]["crops"][0], "from_day": NEW_YEAR - 10}
    events = [
        {
            "id": f"air-{at}",
            "kind": "air_temperature",
            "day": NEW_YEAR + at,
            "hour": 12,
            "minute": 0,
            "instant": (NEW_YEAR + at) * DAY_S + 43_200,
            "order": f"{at:012x}0000",
            "details": {"low_c": IOWA_LOW_C, "high_c": IOWA_HIGH_C},
        }
        for at in range(day - NEW_YEAR)
    ]
    view = {
        "kind": "planting",
        "subject": {"planting": "p1", "bed": "b1"},
        "bed": {"id": "b1", "hidden": False},
        "planting": planting,
        "settings": {"region": "na_midwest", "latitude_deg": 42},
        "events": events,
        "residents": [planting],
        "neighbours": [],
    }
    book = build_rulebook({rule: ROWS[rule] | {"told_for_days": 0} | change})
    found = evaluate(view, book, day, day * DAY_S + 64_800)
    return {made["message"]["values"]["milestone"]: made for made in found}


@pytest.mark.parametrize(("name", "sum_f_days"), APPLE.items(), ids=str)
def test_apples_sums_are_those_that_ship(name: str, sum_f_days: int) -> None:
    shipped = {one["name"]: one for one in ROWS["corn_borer_dates"]["milestones"]}
    assert sum_of(shipped[name]) == pytest.approx(sum_f_days * 5 / 9, abs=1e-12)
    assert shipped[name]["sum_f_days"] == sum_f_days


@pytest.mark.parametrize(("rule", "name", "sum_f_days"), OTHERS, ids=str)
def test_sums_of_the_maggots_are_those_that_ship(rule: str, name: str, sum_f_days: int) -> None:
    shipped = {one["name"]: one["sum_f_days"] for one in ROWS[rule]["milestones"]}
    assert shipped[name] == sum_f_days


def test_thresholds_of_the_corn_borer_are_ten_and_thirty_degrees() -> None:
    row = ROWS["corn_borer_dates"]
    assert (celsius(row["lower_f"]), celsius(row["upper_f"])) == (10, 30)
    assert row["biofix"] == {"month_day": "01-01"}
    assert row["regions"] == ["na_midwest", "na_northeast"]


def test_iowas_day_of_85_and_60_gives_22_5() -> None:
    day = modified_average(IOWA_LOW_C, IOWA_HIGH_C, celsius(50), celsius(86))
    assert day == pytest.approx(celsius_days(22.5), abs=1e-9)


@pytest.mark.parametrize(("sum_f_days", "days"), [(225, 10), (100, 5)], ids=str)
def test_iowas_larvae_take_the_days_that_are_printed(sum_f_days: int, days: int) -> None:
    # 225 to the third instar in 10 days is printed; 100 to the hatch takes part of a fifth day.
    name = "first_larvae"
    change = {"milestones": [{"name": name, "sum_f_days": sum_f_days}]}
    made = told("corn_borer_dates", NEW_YEAR + days, **change, told_for_days=1)
    assert made[name]["state"] == "noted"
    assert made[name]["due"] == NEW_YEAR + days - 1
    before = told("corn_borer_dates", NEW_YEAR + days - 1, **change)
    assert before[name]["state"] == "upcoming"


@pytest.mark.parametrize(("name", "sum_f_days"), APPLE.items(), ids=str)
def test_apples_events_come_on_the_day_that_completes_their_sum(name: str, sum_f_days: int) -> None:
    days = -(-sum_f_days * 10 // 225)
    made = told("corn_borer_dates", NEW_YEAR + days, told_for_days=1)
    assert made[name]["due"] == NEW_YEAR + days - 1


@pytest.mark.parametrize(("name", "sum_f_days"), STEFFEY.items(), ids=str)
def test_steffeys_instars_count_from_the_first_moth(name: str, sum_f_days: int) -> None:
    change = {"milestones": [{"name": name, "sum_f_days": sum_f_days}], "told_for_days": 1}
    days = -(-sum_f_days * 10 // 225)
    made = told("corn_borer_dates", NEW_YEAR + days, **change)
    assert made[name]["due"] == NEW_YEAR + days - 1
