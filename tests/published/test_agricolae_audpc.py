"""The example in the help of agricolae's audpc: days 14, 21, 28 with 40, 80 and 90 %.

The label of its plot and its own arithmetic give 1015, its prose 1045: that is a misprint, and the
test holds that it is not taken over. The figures are exact, so is the comparison.
"""

from shedbook.agronomy.disease_progress import area_under_progress, relative_area

DAYS, PERCENT = [14, 21, 28], [40, 80, 90]
PRINTED_AREA, MISPRINT, ALL = 1015, 1045, 1400


def test_area_is_that_of_the_arithmetic_and_not_that_of_the_prose() -> None:
    assert area_under_progress(DAYS, PERCENT) == PRINTED_AREA != MISPRINT


def test_first_trapezoid_is_the_printed_one() -> None:
    assert area_under_progress(DAYS[:2], PERCENT[:2]) == (21 - 14) * (80 + 40) / 2


def test_relative_area_is_the_share_of_the_printed_whole() -> None:
    assert (DAYS[-1] - DAYS[0]) * 100 == ALL
    assert relative_area(DAYS, PERCENT, 100) == PRINTED_AREA / ALL
