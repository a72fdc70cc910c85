"""Harrington JF, Minges PA. 1954 (as in Knott's Handbook, 1997), and Harrington, Oregon State.

The table of days is checked against the data that ship: equal, since they are copied. Between two
rows days lie on a line; the line's own error is not known, so such values are arithmetic.
"""

import math

import pytest

from shedbook.agronomy.emergence import daily_share, days_to_emergence, normal_share
from shedbook.agronomy.errors import OutOfRange
from shedbook.crops import load_crops
from tests.published.tables import rows_of

CROPS = load_crops()
FAHRENHEIT = ["32", "41", "50", "59", "68", "77", "86", "95", "104"]
NAMES = {"bean_snap": "bean", "bean_lima": "lima_bean", "corn_sweet": "sweet_corn"}
NO_DAYS = {"NG": 0, "NT": -1}
DAYS = {NAMES.get(row["crop"], row["crop"]): row for row in rows_of("emergence_days_knott.csv")}
GERMINATION_NAMES = {"corn": "sweet_corn", "squash": "summer_squash"}
GERMINATION = {
    GERMINATION_NAMES.get(row["crop"], row["crop"]): row
    for row in rows_of("germination_temps_harrington_osu.csv")
}
# Percent of normal pepper seedlings at 50 to 104 degrees Fahrenheit, in one print of the table.
PEPPER_NORMAL = {10: 1, 15: 70, 20: 96, 25: 98, 30: 95, 35: 70, 40: 0}
# Rows of the Oregon State print that differ from Knott's by one day.
OTHER_PRINT = [("cabbage", 25, 4), ("cabbage", 30, 3), ("carrot", 35, 8), ("lettuce", 30, 2)]
OTHER_PRINT += [("cauliflower", 10, 19)]


def celsius(fahrenheit: str) -> float:
    return (float(fahrenheit) - 32) / 1.8


@pytest.mark.parametrize("crop", DAYS, ids=lambda crop: f"harrington-minges-1954-{crop}")
def test_days_that_ship_are_those_of_the_table(crop: str) -> None:
    printed = [DAYS[crop][temp] for temp in FAHRENHEIT]
    days = [NO_DAYS[cell] if cell in NO_DAYS else int(cell) for cell in printed]
    assert CROPS[crop]["emergence_days"] == days
    assert CROPS[crop]["emergence_soil_c"] == [celsius(temp) for temp in FAHRENHEIT]


@pytest.mark.parametrize(
    ("crop", "soil_c", "days"),
    OTHER_PRINT,
    ids=[f"harrington-osu-print-{crop}-{soil_c}C" for crop, soil_c, _ in OTHER_PRINT],
)
def test_days_of_the_other_print_are_within_one_day(crop: str, soil_c: float, days: int) -> None:
    facts = CROPS[crop]
    found = days_to_emergence(facts["emergence_soil_c"], facts["emergence_days"], soil_c)
    # The prints differ by a day, and neither is called wrong here.
    assert abs(found - days) <= 1


@pytest.mark.parametrize(
    ("soil_c", "percent"),
    PEPPER_NORMAL.items(),
    ids=[f"harrington-minges-1954-normal-pepper-{soil_c}C" for soil_c in PEPPER_NORMAL],
)
def test_normal_pepper_seedlings_are_those_of_the_table(soil_c: float, percent: float) -> None:
    pepper = CROPS["pepper"]
    found = normal_share(pepper["emergence_soil_c"], pepper["normal_seedling_share"], soil_c)
    assert math.isclose(found, percent / 100, abs_tol=1e-12)


@pytest.mark.parametrize(
    ("soil_c", "days"),
    [(15, 25), (20, 13), (25, 8), (35, 9), (17.5, 19), (22.5, 10.5), (32.5, 8.5)],
    ids=lambda value: f"harrington-minges-1954-pepper-{value}",
)
def test_days_of_pepper_lie_on_the_line_between_two_rows(soil_c: float, days: float) -> None:
    pepper = CROPS["pepper"]
    table = pepper["emergence_soil_c"], pepper["emergence_days"]
    assert math.isclose(days_to_emergence(*table, soil_c), days, abs_tol=1e-12)
    assert math.isclose(daily_share(*table, soil_c), 1 / days, abs_tol=1e-12)


@pytest.mark.parametrize(
    ("crop", "soil_c"),
    [("pepper", 10), ("pepper", 14.9), ("pepper", 35.1), ("pepper", 45), ("eggplant", 19)],
    ids=lambda value: f"harrington-minges-1954-none-{value}",
)
def test_days_beside_a_temperature_without_days_are_refused(crop: str, soil_c: float) -> None:
    facts = CROPS[crop]
    with pytest.raises(OutOfRange):
        days_to_emergence(facts["emergence_soil_c"], facts["emergence_days"], soil_c)


@pytest.mark.parametrize("crop", GERMINATION, ids=lambda crop: f"harrington-osu-{crop}")
def test_germination_temperatures_that_ship_are_those_of_the_list(crop: str) -> None:
    printed, facts = GERMINATION[crop], CROPS[crop]
    columns = {
        "germination_floor_c": "minimum",
        "germination_best_low_c": "optimum_low",
        "germination_best_high_c": "optimum_high",
        "germination_best_c": "optimum",
        "germination_ceiling_c": "maximum",
    }
    for fact, column in columns.items():
        # Shipped to a hundredth of a degree.
        assert math.isclose(facts[fact], celsius(printed[column]), abs_tol=0.006)
