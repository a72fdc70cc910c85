"""Newcombe 1998, table I, method 3 (Wilson's score without correction), limits of 95 %.

Read second-hand, alike in many test files that cite the table. Printed to four decimals, so half
of the last one is the tolerance.
"""

import pytest

from shedbook.agronomy.proportion import wilson_interval

TABLE = [
    (81, 263, 0.2553, 0.3662),
    (15, 148, 0.0624, 0.1605),
    (0, 20, 0.0000, 0.1611),
    (1, 29, 0.0061, 0.1718),
    (29, 29, 0.8830, 1.0000),
]
HALF_OF_THE_LAST = 5e-5


@pytest.mark.parametrize(("affected", "looked", "low", "high"), TABLE)
def test_wilson_interval_is_the_printed_one(
    affected: int, looked: int, low: float, high: float
) -> None:
    found = wilson_interval(affected, looked)
    assert found == pytest.approx((low, high), abs=HALF_OF_THE_LAST)
