"""The short series against the platform's mathematical library."""

import math
from collections.abc import Callable
from random import Random

import pytest

from shedbook.agronomy import elementary
from shedbook.agronomy.errors import OutOfRange

CLOSE = 1e-12
SPANS: list[tuple[Callable[[float], float], Callable[[float], float], float, float]] = [
    (elementary.sin, math.sin, -40, 40),
    (elementary.cos, math.cos, -40, 40),
    (elementary.atan, math.atan, -1000, 1000),
    (elementary.asin, math.asin, -1, 1),
    (elementary.acos, math.acos, -1, 1),
    (elementary.exp, math.exp, -700, 700),
    (elementary.ln, math.log, 1e-12, 1e12),
    (elementary.ln, math.log, 0.5, 2),
]


@pytest.mark.parametrize(
    ("ours", "theirs", "least", "most"),
    SPANS,
    ids=[f"{ours.__name__}-{least:g}-to-{most:g}" for ours, _, least, most in SPANS],
)
def test_series_over_its_span_agrees_with_the_library(
    ours: Callable[[float], float], theirs: Callable[[float], float], least: float, most: float
) -> None:
    random = Random(56)
    for _ in range(4000):
        argument = random.uniform(least, most)
        expected = theirs(argument)
        assert math.isclose(ours(argument), expected, rel_tol=CLOSE, abs_tol=1e-15), argument


def test_power_agrees_with_the_library() -> None:
    random = Random(56)
    for _ in range(4000):
        base, exponent = random.uniform(0.01, 100), random.uniform(-8, 8)
        assert math.isclose(elementary.power(base, exponent), base**exponent, rel_tol=CLOSE)


@pytest.mark.parametrize(
    ("ours", "argument", "expected"),
    [
        (elementary.sin, 0, 0),
        (elementary.cos, 0, 1),
        (elementary.asin, 1, math.pi / 2),
        (elementary.asin, -1, -math.pi / 2),
        (elementary.acos, -1, math.pi),
        (elementary.acos, 1, 0),
        (elementary.atan, 0, 0),
        (elementary.exp, 0, 1),
        (elementary.ln, 1, 0),
        (elementary.exp, 700, math.exp(700)),
        (elementary.exp, -700, math.exp(-700)),
        (elementary.ln, 1e300, math.log(1e300)),
        (elementary.ln, 5e-324, math.log(5e-324)),
    ],
    ids=lambda value: getattr(value, "__name__", str(value)),
)
def test_series_at_an_end_of_its_span(
    ours: Callable[[float], float], argument: float, expected: float
) -> None:
    assert math.isclose(ours(argument), expected, rel_tol=CLOSE, abs_tol=1e-15)


@pytest.mark.parametrize(
    ("ours", "argument"),
    [
        (elementary.sin, 1_000_001),
        (elementary.cos, -1_000_001),
        (elementary.sin, math.nan),
        (elementary.atan, math.inf),
        (elementary.asin, 1.0000001),
        (elementary.acos, -1.0000001),
        (elementary.exp, 701),
        (elementary.ln, 0),
        (elementary.ln, -1),
    ],
    ids=lambda value: getattr(value, "__name__", str(value)),
)
def test_series_outside_its_span_is_refused(
    ours: Callable[[float], float], argument: float
) -> None:
    with pytest.raises(OutOfRange):
        ours(argument)
