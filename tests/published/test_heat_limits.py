"""Limits of warmth that extension services print in degrees Fahrenheit, against those that ship.

Tolerance: what the row rounds, a hundredth of a degree, or to the growers' own round figure.
"""

from typing import Any

import pytest

from shedbook.crops import load_crops
from shedbook.rules.heat_sum import celsius
from shedbook.rules.rows import load_rows

# Country Folks Grower, fruit set: pepper 60, 75 and 95 °F, tomato 55 °F. University of Delaware
# (Ernest): pepper nights below 64 °F.
FRUIT_SET = [
    ("fruit_set", "strong_low_night_c", 60, 0.005),
    ("picking_gap", "strong_low_night_c", 60, 0.005),
    ("fruit_set", "high_night_c", 75, 0.12),
    ("fruit_set", "high_day_c", 95, 1e-9),
    ("fruit_set_tomato", "low_night_c", 55, 0.005),
    ("fruit_set", "low_night_c", 64, 0.23),
]
# New Mexico State University, chile: 41 and 86 °F. Oregon State University, sweet corn: 50 and 86.
CROPS = [
    ("pepper", "degree_days_lower_c", 41),
    ("pepper", "degree_days_upper_c", 86),
    ("sweet_corn", "degree_days_lower_c", 50),
    ("sweet_corn", "degree_days_upper_c", 86),
]
# University of Minnesota, VegEdge: thresholds and first day of each count.
COUNTS = [
    ("corn_borer_dates", {"lower_f": 50, "upper_f": 86, "biofix": {"month_day": "01-01"}}),
    ("seedcorn_maggot_dates", {"lower_f": 39, "upper_f": 84.2, "biofix": {"month_day": "01-01"}}),
    ("cabbage_maggot_dates", {"lower_f": 43, "biofix": {"month_day": "04-01"}}),
]


@pytest.mark.parametrize(("rule", "param", "printed_f", "within"), FRUIT_SET, ids=str)
def test_limit_for_fruit_set_is_the_printed_one(
    rule: str, param: str, printed_f: float, within: float
) -> None:
    assert load_rows()[rule][param] == pytest.approx(celsius(printed_f), abs=within)


@pytest.mark.parametrize(("crop", "fact", "printed_f"), CROPS, ids=str)
def test_limit_of_a_crops_degree_days_is_the_printed_one(
    crop: str, fact: str, printed_f: float
) -> None:
    assert load_crops()[crop][fact] == celsius(printed_f)


@pytest.mark.parametrize(("rule", "printed"), COUNTS, ids=str)
def test_count_of_a_pest_begins_and_ends_where_it_is_printed(
    rule: str, printed: dict[str, Any]
) -> None:
    assert load_rows()[rule].items() >= printed.items()
