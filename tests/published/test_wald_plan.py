"""Wald's binomial plan where its lines can be told in closed form.

With p0 0.10, p1 0.25 and both risks 0.10 the odds ratio is 3 and (1 - beta) / alpha is 9, so the
lines begin at exactly minus and plus 2. No complete worked example was found in print: these are
worked out from the formulas of Wald 1947, section 5.3, with the standard library's logarithm.
"""

import math

import pytest

from shedbook.agronomy.sequential import wald_lines

PLANS = [
    (0.10, 0.25, 0.10, 0.10),
    (0.01, 0.10, 0.05, 0.10),
    (0.06, 0.18, 0.10, 0.10),
]


def test_lines_of_the_plan_with_whole_numbers() -> None:
    lines = wald_lines(0.10, 0.25, 0.10, 0.10)
    assert lines.low == pytest.approx(-2, abs=1e-12)
    assert lines.high == pytest.approx(2, abs=1e-12)
    assert lines.slope == pytest.approx(math.log(0.9 / 0.75) / math.log(3), abs=1e-12)
    assert lines.slope == pytest.approx(0.165956, abs=5e-7)


@pytest.mark.parametrize(("p0", "p1", "alpha", "beta"), PLANS)
def test_lines_with_our_logarithm_are_those_with_the_librarys(
    p0: float, p1: float, alpha: float, beta: float
) -> None:
    odds = math.log(p1 * (1 - p0) / (p0 * (1 - p1)))
    expected = (
        math.log((1 - p0) / (1 - p1)) / odds,
        math.log(beta / (1 - alpha)) / odds,
        math.log((1 - beta) / alpha) / odds,
    )
    assert wald_lines(p0, p1, alpha, beta) == pytest.approx(expected, rel=1e-12)
