"""spreval (Grabow, NC State), help of DU and CU: 15 catch cans.

The low quarter of 15 cans is the emptiest 4 (15/4 rounded up). Tolerance: the printed digits.
"""

import math

import pytest

from shedbook.agronomy.uniformity import (
    christiansen,
    depth_per_hour,
    distribution_uniformity_low_quarter,
)

CANS_ML = [47, 42, 45, 24, 13, 26, 33, 34, 27, 30, 40, 44, 32, 12, 12]


def test_spreval_du_low_quarter_of_15_cans_is_49_62039_percent() -> None:
    found = 100 * distribution_uniformity_low_quarter(CANS_ML)
    assert math.isclose(found, 49.62039, abs_tol=5e-6)


def test_spreval_cu_of_15_cans_is_69_13955_percent() -> None:
    assert math.isclose(100 * christiansen(CANS_ML), 69.13955, abs_tol=5e-6)


def test_low_quarter_of_15_cans_rounded_down_would_be_another_figure() -> None:
    three_emptiest = sum(sorted(CANS_ML)[:3]) / 3 / (sum(CANS_ML) / 15)
    # The reference names it, so that a change of the convention can't go unseen.
    assert math.isclose(100 * three_emptiest, 40.13, abs_tol=0.005)
    assert 100 * distribution_uniformity_low_quarter(CANS_ML) > 49


def test_christiansen_of_8_and_12_around_10_is_80_percent() -> None:
    # Turf irrigation article: mean 10, each deviation 2.
    assert math.isclose(christiansen([8, 12, 8, 12]), 0.8, abs_tol=1e-12)


@pytest.mark.parametrize(("mean_ml", "minutes", "area_in2"), [(30, 15, 16), (12, 20, 9.6)])
def test_maryland_audit_formula_in_inches_gives_the_same_depth(
    mean_ml: float, minutes: float, area_in2: float
) -> None:
    inches = 3.66 * mean_ml / (minutes * area_in2)
    found = depth_per_hour([mean_ml] * 4, area_in2 * 2.54 * 2.54, minutes)
    # The formula's constant is printed with three digits (60 / 16.387 = 3.661).
    assert math.isclose(found / 25.4, inches, rel_tol=5e-4)
