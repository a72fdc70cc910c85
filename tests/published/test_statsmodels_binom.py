"""Wilson limits of R's package binom, as kept in the test results of statsmodels.

Eight digits or more are kept there, seven in the last four cases: the tolerances follow. The z
behind them is that of the normal curve in full.
"""

import pytest

from shedbook.agronomy.proportion import wilson_interval

KEPT = [
    (18, 20, 0.6989663547715128, 0.972133518786232, 1e-12),
    (4, 20, 0.0806576625797981, 0.4160174322518935, 1e-12),
    (4, 200, 0.00780442641634947, 0.05028708690582643, 1e-12),
    (190, 200, 0.910421851861224, 0.972617354399236, 1e-12),
    (1, 30, 5.908590e-03, 0.16670391, 5e-9),
    (29, 30, 0.8332961, 0.9940914, 5e-8),
    (0, 30, 0, 0.11351339, 5e-9),
    (30, 30, 0.8864866, 1, 5e-8),
]


@pytest.mark.parametrize(("affected", "looked", "low", "high", "tolerance"), KEPT)
def test_wilson_interval_is_the_kept_one(
    affected: int, looked: int, low: float, high: float, tolerance: float
) -> None:
    assert wilson_interval(affected, looked) == pytest.approx((low, high), abs=tolerance)
