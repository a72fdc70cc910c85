"""The example of PySAL's Join_Counts: a 4 by 4 grid, the upper half 0 and the lower half 1.

Counts are exact; the expectation is a fraction, 24 joins by 56 of 240 ordered pairs.
"""

from shedbook.agronomy.join_counts import expected_both, rook_joins

GRID = [(row, place) for row in range(4) for place in range(4)]
ONES = GRID[8:]


def test_joins_are_those_of_the_example() -> None:
    joins = rook_joins(ONES, GRID)
    assert (joins.both, joins.neither, joins.mixed) == (10, 10, 4)
    assert sum(joins) == 24


def test_expected_joins_are_those_of_the_example() -> None:
    assert expected_both(8, 16, 24) == 5.6
