"""Degree days against integration of the curve itself, and what holds on any day."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedbook.agronomy.degree_days import average, modified_average, single_sine
from shedbook.agronomy.degree_days_more import (
    CUTOFFS,
    double_sine,
    double_triangle,
    sine_cut,
    single_triangle,
    time_above,
)
from shedbook.agronomy.errors import OutOfRange

# Low, high, lower and upper threshold: each of the six ways in which a day can lie to two limits.
SIX_CASES = [
    ("above-both", 32, 38, 10, 30),
    ("below-both", 1, 8, 10, 30),
    ("between", 12, 28, 10, 30),
    ("crosses-lower", 4, 22, 10, 30),
    ("crosses-upper", 14, 36, 10, 30),
    ("crosses-both", 4, 36, 10, 30),
]
STEPS = 20_000

lows = st.floats(-20, 35)
swings = st.floats(0, 25)
lowers = st.floats(-5, 20)
spans = st.floats(0.5, 25)


def counted(temperature: float, lower: float, upper: float, cutoff: str) -> float:
    """How fast development goes at one moment."""
    if temperature <= upper:
        return max(0.0, temperature - lower)
    if cutoff == "horizontal":
        return upper - lower
    if cutoff == "vertical":
        return 0.0
    return upper - lower - (temperature - upper)


def integrated(curve: Callable[[float], float], rate: Callable[[float], float]) -> float:
    """The mean of the rate along a day's curve, by midpoints."""
    return math.fsum(rate(curve((i + 0.5) / STEPS)) for i in range(STEPS)) / STEPS


def sine_between(low: float, high: float) -> Callable[[float], float]:
    return lambda part: (low + high) / 2 + (high - low) / 2 * math.sin(2 * math.pi * part)


def triangle_between(low: float, high: float) -> Callable[[float], float]:
    return lambda part: low + (high - low) * (1 - abs(2 * part - 1))


@pytest.mark.parametrize("cutoff", CUTOFFS)
@pytest.mark.parametrize(
    ("low", "high", "lower", "upper"), [c[1:] for c in SIX_CASES], ids=[c[0] for c in SIX_CASES]
)
def test_sine_of_each_case_is_the_area_of_its_curve(
    low: float, high: float, lower: float, upper: float, cutoff: str
) -> None:
    area = integrated(sine_between(low, high), lambda t: counted(t, lower, upper, cutoff))
    # A day that is always far above gives less than nothing by the intermediate cutoff.
    assert math.isclose(sine_cut(low, high, lower, upper, cutoff), max(0, area), abs_tol=2e-3)
    if cutoff == "horizontal":
        assert math.isclose(single_sine(low, high, lower, upper), area, abs_tol=1e-6)


@pytest.mark.parametrize(
    ("low", "high", "lower", "upper"), [c[1:] for c in SIX_CASES], ids=[c[0] for c in SIX_CASES]
)
def test_triangle_of_each_case_is_the_area_of_its_curve(
    low: float, high: float, lower: float, upper: float
) -> None:
    area = integrated(triangle_between(low, high), lambda t: counted(t, lower, upper, "horizontal"))
    assert math.isclose(single_triangle(low, high, lower, upper), area, abs_tol=1e-6)


@given(lows, swings, lowers)
def test_sine_is_at_least_the_triangle_and_that_at_least_the_average(
    low: float, swing: float, lower: float
) -> None:
    by_average = average(low, low + swing, lower)
    by_triangle = single_triangle(low, low + swing, lower)
    by_sine = single_sine(low, low + swing, lower)
    assert by_sine >= by_average - 1e-9
    assert by_triangle >= by_average - 1e-9
    if low <= lower <= low + swing / 2:
        assert by_sine >= by_triangle - 1e-9


@given(lows, swings, lowers, spans)
def test_cutoffs_are_in_order_and_the_intermediate_lies_as_far_below(
    low: float, swing: float, lower: float, span: float
) -> None:
    day = (low, low + swing, lower)
    uncut = single_sine(*day)
    flat, middle, hard = (sine_cut(*day, lower + span, cutoff) for cutoff in CUTOFFS)
    assert uncut >= flat - 1e-9
    assert flat >= middle - 1e-9
    assert flat >= hard - 1e-9
    if middle > 0:
        assert math.isclose(flat - middle, uncut - flat, abs_tol=1e-9)


@given(lows, swings, lowers, spans)
def test_two_halves_alike_make_the_single_curve(
    low: float, swing: float, lower: float, span: float
) -> None:
    high, upper = low + swing, lower + span
    both = double_sine(low, high, low, lower, upper)
    assert math.isclose(both, single_sine(low, high, lower, upper), abs_tol=1e-9)
    both = double_triangle(low, high, low, lower, upper)
    assert math.isclose(both, single_triangle(low, high, lower, upper), abs_tol=1e-9)


@given(lows, swings, lowers, spans, st.floats(0, 5))
def test_a_warmer_day_never_counts_less(
    low: float, swing: float, lower: float, span: float, warmer: float
) -> None:
    day, warm = (low, low + swing), (low + warmer, low + swing + warmer)
    for method in (modified_average, single_sine, single_triangle):
        assert method(*warm, lower, lower + span) >= method(*day, lower, lower + span) - 1e-9
    assert average(*warm, lower) >= average(*day, lower) - 1e-9


def test_a_cooler_night_after_counts_less() -> None:
    assert double_sine(15, 25, 5, 10) < double_sine(15, 25, 15, 10)


@pytest.mark.parametrize(
    ("threshold", "share"), [(30, 0.0), (10, 1.0), (20, 0.5), (25, 1 / 3), (15, 2 / 3)]
)
def test_time_above_a_threshold_is_the_share_of_the_wave(threshold: float, share: float) -> None:
    assert math.isclose(time_above(10, 30, threshold), share, abs_tol=1e-12)


@pytest.mark.parametrize(
    "day",
    [(-61, 0, 10, 30), (0, 61, 10, 30), (20, 10, 10, 30), (0, 20, 70, 80), (0, 20, 30, 30)],
    ids=["low-too-low", "high-too-high", "turned-round", "lower-too-high", "no-span"],
)
def test_a_day_outside_the_span_is_refused(day: tuple[float, ...]) -> None:
    for method in (modified_average, single_sine, single_triangle):
        with pytest.raises(OutOfRange):
            method(*day)


def test_a_cutoff_of_another_name_is_refused() -> None:
    with pytest.raises(OutOfRange):
        sine_cut(10, 20, 5, 30, "diagonal")
