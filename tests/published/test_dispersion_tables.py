"""Tables of counts on quadrats, and counts of lake-floor animals.

The grid table (Journal of Ecosystem & Ecography 3:136) prints the ratio to three decimals and
chi-square to two; the chance follows from the rounded chi-square and is held to half a thousandth.
Its 10 by 10 row contradicts itself (99 times 1.582 is not 126.54) and is left out. The lecture
rounds to four digits.
"""

import pytest

from shedbook.agronomy.dispersion import (
    chi_square_above,
    dispersion_chi_square,
    index_of_cluster_size,
    mean_and_variance,
    negative_binomial_k,
    variance_to_mean,
)

GRIDS = [
    (16, 1.517, 22.76, 0.517, 0.0891),
    (36, 2.268, 79.36, 1.268, 0.00003),
    (64, 2.667, 168.0, 1.667, 0.0),
]
LAKE_FLOOR = [0] * 213 + [1] * 128 + [2] * 37 + [3] * 18 + [4] * 3 + [5]


@pytest.mark.parametrize(("units", "ratio", "chi_square", "cluster", "chance"), GRIDS)
def test_grid_gives_its_printed_figures(
    units: int, ratio: float, chi_square: float, cluster: float, chance: float
) -> None:
    # A ratio rounded at the third decimal leaves chi-square open by half of that times n - 1.
    room = 0.0005 * (units - 1) + 0.005
    assert dispersion_chi_square(ratio, units) == pytest.approx(chi_square, abs=room)
    assert index_of_cluster_size(ratio) == pytest.approx(cluster, abs=1e-9)
    assert chi_square_above(chi_square, units - 1) == pytest.approx(chance, abs=5e-4)


def test_course_question_of_thirty_quadrats() -> None:
    mean, variance = 12.8, 44.89
    assert variance / mean == pytest.approx(3.507, abs=5e-4)
    assert dispersion_chi_square(variance / mean, 30) == pytest.approx(29 * 3.507, abs=0.02)


def test_lake_floor_animals_give_the_mean_variance_ratio_and_k_of_the_lecture() -> None:
    mean, variance = mean_and_variance(LAKE_FLOOR)
    assert len(LAKE_FLOOR) == 400
    assert mean == pytest.approx(0.6825, abs=5e-5)
    assert variance == pytest.approx(0.8137, abs=5e-5)
    assert variance_to_mean(LAKE_FLOOR) == pytest.approx(1.192, abs=5e-4)
    assert negative_binomial_k(mean, variance) == pytest.approx(3.55, abs=5e-3)
