"""How counts lie: what must hold whatever the numbers."""

from random import Random

import pytest

from shedbook.agronomy.dispersion import (
    binomial_dispersion,
    chi_square_above,
    dispersion_chi_square,
    index_of_cluster_size,
    mean_and_variance,
    negative_binomial_k,
    variance_to_mean,
)
from shedbook.agronomy.errors import NotEnoughData, OutOfRange


def test_equal_counts_have_no_variance() -> None:
    assert mean_and_variance([3, 3, 3]) == (3, 0)
    assert variance_to_mean([3, 3, 3]) == 0
    assert index_of_cluster_size(variance_to_mean([3, 3, 3])) == -1


def test_all_in_one_place_is_as_clumped_as_can_be() -> None:
    assert variance_to_mean([0, 0, 0, 12]) == pytest.approx(12)


def test_ratio_of_counts_by_chance_is_near_one() -> None:
    random = Random(1978)
    counts = [0] * 2000
    for _ in range(6000):
        counts[random.randrange(2000)] += 1
    ratio = variance_to_mean(counts)
    assert 0.9 < ratio < 1.1
    assert chi_square_above(dispersion_chi_square(ratio, 2000), 1999) > 0.01


def test_chance_of_a_chi_square_falls_as_it_grows() -> None:
    for freedom in (1, 2, 15, 99, 1999):
        chances = [chi_square_above(freedom * step / 4, freedom) for step in range(13)]
        assert chances == sorted(chances, reverse=True)
        assert chances[0] == 1
        assert all(0 <= chance <= 1 for chance in chances)


def test_two_degrees_of_freedom_follow_the_exponential() -> None:
    # With two degrees of freedom the chance is exp(-x / 2) exactly.
    assert chi_square_above(2 * 0.6931471805599453, 2) == pytest.approx(0.5, abs=1e-12)
    assert chi_square_above(20, 2) == pytest.approx(4.5399929762484854e-05, rel=1e-12)


def test_clumped_affected_plants_vary_more_than_chance_lets_them() -> None:
    assert binomial_dispersion(2, 2 * 0.5, 4) == pytest.approx(1)
    assert binomial_dispersion(2, 4, 4) == pytest.approx(4)


@pytest.mark.parametrize("counts", [[], [4]])
def test_fewer_than_two_counts_are_not_enough(counts: list[int]) -> None:
    with pytest.raises(NotEnoughData):
        mean_and_variance(counts)


def test_nothing_found_has_no_ratio() -> None:
    with pytest.raises(NotEnoughData):
        variance_to_mean([0, 0, 0])


def test_counts_that_are_not_clumped_have_no_k() -> None:
    with pytest.raises(OutOfRange):
        negative_binomial_k(2, 2)
    assert negative_binomial_k(2, 4) == 2
