"""Neighbours in a bed: pairs, gaps in the rows, and lots that are the same each time."""

from random import Random

import pytest

from shedbook.agronomy.errors import NotEnoughData, OutOfRange
from shedbook.agronomy.join_counts import expected_both, permutation_p, rook_joins

SQUARE = [(row, place) for row in range(6) for place in range(6)]


def test_every_pair_of_neighbours_is_counted_once() -> None:
    random = Random(1)
    for _ in range(50):
        ill = random.sample(SQUARE, random.randint(0, 36))
        assert sum(rook_joins(ill, SQUARE)) == 2 * 6 * 5


def test_a_gap_has_no_neighbours() -> None:
    row = [(0, 0), (0, 1), (0, 3)]
    assert rook_joins([(0, 1), (0, 3)], row) == (0, 1, 0)


def test_the_mean_over_all_lots_is_what_is_expected() -> None:
    places = [(row, place) for row in range(3) for place in range(3)]
    pairs = [
        rook_joins([one, other], places).both
        for at, one in enumerate(places)
        for other in places[at + 1 :]
    ]
    assert sum(pairs) / len(pairs) == pytest.approx(expected_both(2, 9, 12))


def test_a_block_of_affected_plants_is_rare_by_lot_and_scattered_ones_are_not() -> None:
    block = [(row, place) for row in range(3) for place in range(3)]
    scattered = [(0, 0), (0, 2), (0, 4), (2, 1), (2, 3), (2, 5), (4, 0), (4, 2), (4, 4)]
    assert permutation_p(block, SQUARE, 999, 1) < 0.01
    assert permutation_p(scattered, SQUARE, 999, 1) == 1


def test_the_same_seed_draws_the_same_lots() -> None:
    ill = SQUARE[:3] + SQUARE[20:25]
    assert permutation_p(ill, SQUARE, 499, 7) == permutation_p(ill[::-1], SQUARE[::-1], 499, 7)


def test_a_chance_is_never_nothing() -> None:
    assert permutation_p(SQUARE[:12], SQUARE, 99, 1) >= 1 / 100


def test_one_affected_plant_or_all_of_them_make_no_pattern() -> None:
    for ill in (SQUARE[:1], SQUARE):
        with pytest.raises(NotEnoughData):
            permutation_p(ill, SQUARE, 9, 1)


def test_an_affected_plant_that_does_not_stand_is_refused() -> None:
    with pytest.raises(OutOfRange):
        rook_joins([(9, 9)], SQUARE)
