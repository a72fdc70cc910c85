"""Published degree days by the averages, and computed areas of the sine and the triangle.

The averages are published arithmetic. For the sine and the triangle no worked number was found in
print: those rows are the reference's own 200 000-point integration, to its three decimals.
"""

import math
from collections.abc import Callable

import pytest

from shedbook.agronomy.degree_days import average, modified_average, single_sine
from shedbook.agronomy.degree_days_more import sine_cut, single_triangle

# Nine days of black cutworm, base 38 °F: high, low, degree days (study question, unattributed).
CUTWORM = [
    (49, 39, 6),
    (70, 37, 15.5),
    (72, 44, 20),
    (76, 50, 25),
    (80, 52, 28),
    (78, 53, 27.5),
    (83, 52, 29.5),
    (87, 54, 32.5),
    (88, 58, 35),
]


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def in_fahrenheit(
    method: Callable[..., float], low: float, high: float, *thresholds: float
) -> float:
    """Degree days in °F: a degree day is 1.8 of them whatever the zero of the scale."""
    return 1.8 * method(celsius(low), celsius(high), *map(celsius, thresholds))


def test_cornell_simple_average_46_67_base_50_gives_6_5() -> None:
    # Exact arithmetic; the tolerance is for the change of scale.
    assert math.isclose(in_fahrenheit(average, 46, 67, 50), 6.5, abs_tol=1e-9)


@pytest.mark.parametrize(
    ("high", "low", "expected"),
    CUTWORM,
    ids=[f"black-cutworm-{row[0]}-{row[1]}" for row in CUTWORM],
)
def test_black_cutworm_day_by_the_simple_average(high: float, low: float, expected: float) -> None:
    assert math.isclose(in_fahrenheit(average, low, high, 38), expected, abs_tol=1e-9)


def test_black_cutworm_days_add_up_to_219() -> None:
    total = sum(in_fahrenheit(average, low, high, 38) for high, low, _ in CUTWORM)
    assert math.isclose(total, 219, abs_tol=1e-9)


def test_iowa_state_1999_corn_borer_85_60_gives_22_5_by_the_modified_average() -> None:
    day = in_fahrenheit(modified_average, 60, 85, 50, 86)
    assert math.isclose(day, 22.5, abs_tol=1e-9)
    # The same note: about 10 such days from hatch to third instar, 225 degree days.
    assert math.isclose(225 / day, 10, abs_tol=1e-9)


@pytest.mark.parametrize(
    ("low", "high", "thresholds", "by_average", "by_modified", "by_sine", "by_triangle"),
    [
        (40, 70, (50,), 5.0, 10.0, 7.542, 6.667),
        (46, 67, (50,), 6.5, 8.5, 7.256, 6.881),
        (60, 85, (50, 86), 22.5, 22.5, 22.5, 22.5),
    ],
    ids=["computed-40-70", "computed-46-67", "computed-60-85"],
)
def test_computed_areas_agree_with_the_integration(
    low: float,
    high: float,
    thresholds: tuple[float, ...],
    by_average: float,
    by_modified: float,
    by_sine: float,
    by_triangle: float,
) -> None:
    # Half of the third decimal that the integration is told with.
    assert math.isclose(in_fahrenheit(average, low, high, thresholds[0]), by_average, abs_tol=5e-4)
    assert math.isclose(
        in_fahrenheit(modified_average, low, high, *thresholds), by_modified, abs_tol=5e-4
    )
    assert math.isclose(in_fahrenheit(single_sine, low, high, *thresholds), by_sine, abs_tol=5e-4)
    assert math.isclose(
        in_fahrenheit(single_triangle, low, high, *thresholds), by_triangle, abs_tol=5e-4
    )


def test_both_thresholds_crossed_55_95_with_50_88_gives_23_73() -> None:
    # By hand; a library with a sign error in this case gives 40.85.
    found = in_fahrenheit(single_sine, 55, 95, 50, 88)
    assert math.isclose(found, 23.73, abs_tol=0.005)


@pytest.mark.parametrize("cutoff", ["horizontal", "intermediate", "vertical"])
def test_cutoffs_agree_where_no_threshold_is_crossed(cutoff: str) -> None:
    found = 1.8 * sine_cut(celsius(60), celsius(85), celsius(50), celsius(86), cutoff)
    assert math.isclose(found, 22.5, abs_tol=1e-9)
