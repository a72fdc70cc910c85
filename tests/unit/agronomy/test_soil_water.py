"""The account of the root zone: what holds on any day, and the edges."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedbook.agronomy.errors import OutOfRange
from shedbook.agronomy.soil_water import (
    container_available_water,
    depletion_fraction,
    effective_rain,
    stress_coefficient,
    total_available_water,
    water_day,
)

taws = st.floats(1, 400)
shares = st.floats(0, 1)
fractions = st.floats(0.1, 0.8)
depths = st.floats(0, 150)
thirsts = st.floats(0, 15)


@given(taws, shares, fractions, depths, depths, thirsts, depths)
def test_more_rain_never_raises_the_depletion(
    taw: float, share: float, p: float, rain: float, water: float, thirst: float, more: float
) -> None:
    before = share * taw
    dry = water_day(before, taw, p, rain, water, thirst)
    wet = water_day(before, taw, p, rain + more, water, thirst)
    assert wet.depletion_mm <= dry.depletion_mm + 1e-9
    assert wet.drainage_mm >= dry.drainage_mm - 1e-9


@given(taws, shares, fractions, depths, depths, thirsts)
def test_a_day_keeps_its_water_together(
    taw: float, share: float, p: float, rain: float, water: float, thirst: float
) -> None:
    before = share * taw
    day = water_day(before, taw, p, rain, water, thirst)
    gone = day.etc_adjusted_mm + day.drainage_mm
    assert math.isclose(day.depletion_mm, before - rain - water + gone, abs_tol=1e-9)
    assert 0 <= day.depletion_mm <= taw
    assert 0 <= day.ks <= 1
    assert -1e-9 <= day.etc_adjusted_mm <= thirst + 1e-9


@given(taws, shares, shares, fractions)
def test_stress_never_eases_as_depletion_grows(
    taw: float, one: float, other: float, p: float
) -> None:
    less, more = sorted((one, other))
    assert stress_coefficient(less * taw, taw, p) >= stress_coefficient(more * taw, taw, p)


@given(shares, thirsts)
def test_a_thirstier_day_never_lets_more_water_go_first(p: float, thirst: float) -> None:
    assert depletion_fraction(p, thirst + 1) <= depletion_fraction(p, thirst)


def test_stress_is_none_at_raw_and_whole_at_taw() -> None:
    assert stress_coefficient(40, 100, 0.4) == 1
    assert stress_coefficient(100, 100, 0.4) == 0


def test_plants_take_no_more_than_is_there() -> None:
    day = water_day(99.0, 100.0, 0.0, 0.5, 0, 400.0)
    assert day.depletion_mm == 100.0
    assert day.etc_adjusted_mm == 1.5


@pytest.mark.parametrize(("rain", "counted"), [(0.99, 0.0), (1.0, 1.0), (7.0, 7.0)])
def test_rain_below_a_fifth_of_the_days_loss_does_not_count(rain: float, counted: float) -> None:
    assert effective_rain(rain, 5.0) == counted


def test_container_holds_its_share_of_the_volume() -> None:
    assert container_available_water(20, 0.25) == 5


@pytest.mark.parametrize(
    ("depletion", "taw", "p", "rain", "thirst", "name"),
    [
        (-1, 100, 0.4, 0, 5, "depletion_mm"),
        (101, 100, 0.4, 0, 5, "depletion_mm"),
        (10, 0, 0.4, 0, 5, "taw_mm"),
        (10, 100, 1.0, 0, 5, "p"),
        (10, 100, 0.4, -1, 5, "rain_mm"),
        (10, 100, 0.4, 0, -5, "etc_potential_mm"),
        (10, 100, 0.4, math.nan, 5, "rain_mm"),
    ],
)
def test_an_absurd_day_is_refused_by_the_name_of_what_is_wrong(
    depletion: float, taw: float, p: float, rain: float, thirst: float, name: str
) -> None:
    with pytest.raises(OutOfRange) as refused:
        water_day(depletion, taw, p, rain, 0, thirst)
    assert refused.value.name == name


@pytest.mark.parametrize(
    ("field_capacity", "wilting_point", "depth"),
    [(0, 0, 1), (1.1, 0.1, 1), (0.3, 0.3, 1), (0.3, -0.1, 1), (0.3, 0.1, 0), (0.3, 0.1, 5.1)],
)
def test_a_soil_that_can_not_be_is_refused(
    field_capacity: float, wilting_point: float, depth: float
) -> None:
    with pytest.raises(OutOfRange):
        total_available_water(field_capacity, wilting_point, depth)
