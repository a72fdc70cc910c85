"""Conversions there and back, what grows with what, what is refused, and the phone's half."""

from collections.abc import Callable
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedbook.agronomy import customary as us
from shedbook.agronomy import fertilizer as f
from shedbook.agronomy.errors import OutOfRange
from tests.unit.agronomy.twin import Call, differing

SIZES = st.floats(1e-3, 1e6)
GRADES = st.floats(0.1, 100)
Convert = Callable[[float], float]

THERE_AND_BACK: list[tuple[Convert, Convert]] = [
    (us.rate_from_lb_per_acre, us.lb_per_acre),
    (us.rate_from_lb_per_1000_ft2, us.lb_per_1000_ft2),
    (us.volume_of_cups, us.cups_of_volume),
    (us.volume_of_tablespoons, us.tablespoons_of_volume),
]
CALLS_EACH = 3000
FERTILIZER = (
    *("nutrient_mass", "product_mass", "mass_of_volume", "volume_of_mass", "rate_of_mass"),
    *("mass_for_rate", "area_per_plant", "layer_volume", "layer_depth"),
)
CUSTOMARY = (
    *("bulk_density", "rate_from_lb_per_acre", "lb_per_acre", "rate_from_lb_per_1000_ft2"),
    *("lb_per_1000_ft2", "plants_per_acre", "cups_of_volume", "volume_of_cups"),
    *("tablespoons_of_volume", "volume_of_tablespoons"),
)


@pytest.mark.parametrize(("there", "back"), THERE_AND_BACK, ids=lambda one: one.__name__)
@given(value=SIZES)
def test_a_unit_there_and_back_is_itself(there: Convert, back: Convert, value: float) -> None:
    assert back(there(value)) == pytest.approx(value, rel=1e-13)
    assert there(back(value)) == pytest.approx(value, rel=1e-13)


@given(mass=SIZES, percent=GRADES)
def test_a_nutrient_of_its_product_is_itself(mass: float, percent: float) -> None:
    assert f.nutrient_mass(f.product_mass(mass, percent), percent) == pytest.approx(mass, rel=1e-13)


@given(mass=SIZES, density=st.floats(0.05, 3))
def test_mass_of_its_own_volume_is_itself(mass: float, density: float) -> None:
    there = f.volume_of_mass(mass, density)
    assert f.mass_of_volume(there, density) == pytest.approx(mass, rel=1e-13)


@given(mass=SIZES, area=st.floats(0.1, 1e6))
def test_mass_of_its_own_rate_is_itself(mass: float, area: float) -> None:
    assert f.mass_for_rate(f.rate_of_mass(mass, area), area) == pytest.approx(mass, rel=1e-13)


@given(area=SIZES, depth=st.floats(0.1, 500))
def test_depth_of_its_own_layer_is_itself(area: float, depth: float) -> None:
    assert f.layer_depth(f.layer_volume(area, depth), area) == pytest.approx(depth, rel=1e-13)


@given(mass=SIZES, percent=st.floats(0.1, 99), more=st.floats(1e-3, 1))
def test_a_richer_product_is_needed_in_smaller_amount(
    mass: float, percent: float, more: float
) -> None:
    assert f.product_mass(mass, percent + more) < f.product_mass(mass, percent)


@given(mass=SIZES, area=st.floats(0.1, 1e6), times=st.floats(1.01, 10))
def test_the_same_mass_on_more_ground_is_a_lower_rate(
    mass: float, area: float, times: float
) -> None:
    assert f.rate_of_mass(mass, area * times) < f.rate_of_mass(mass, area)


@pytest.mark.parametrize(
    ("ask", "name"),
    [
        (lambda: f.nutrient_mass(100, 101), "percent"),
        (lambda: f.nutrient_mass(-1, 10), "product_g"),
        (lambda: f.product_mass(10, 0), "percent"),
        (lambda: f.volume_of_mass(10, 0), "density_g_per_ml"),
        (lambda: f.rate_of_mass(10, 0), "area_m2"),
        (lambda: f.area_per_plant(0, 0.6), "in_row_m"),
        (lambda: f.layer_depth(10, -1), "area_m2"),
        (lambda: us.bulk_density(1, 0), "cups"),
        (lambda: us.lb_per_acre(float("nan")), "kg_per_ha"),
        (lambda: us.plants_per_acre(float("inf")), "area_per_plant_m2"),
    ],
)
def test_what_has_no_answer_is_refused_by_name(ask: Callable[[], float], name: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        ask()
    assert refused.value.name == name


def fertilizer_call(random: Random) -> Call:
    one, other = random.uniform(-1, 5000), random.uniform(-0.5, 101)
    name = random.choice(FERTILIZER)
    return "fertilizer", name, [one, other]


def customary_call(random: Random) -> Call:
    name = random.choice(CUSTOMARY)
    args: list[Any] = [random.choice([random.uniform(-1, 9000), random.uniform(0, 2e9)])]
    return "customary", name, [*args, random.uniform(-1, 9)] if name == "bulk_density" else args


@pytest.mark.parametrize("make_call", [fertilizer_call, customary_call])
def test_twins_agree_to_the_bit(make_call: Callable[[Random], Call]) -> None:
    random = Random(1959)
    calls = [make_call(random) for _ in range(CALLS_EACH)]
    assert not differing(calls)
