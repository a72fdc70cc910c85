"""Phytophthora on bell pepper, two fields of 20 by 20 plots (Gumpertz, Graham and Ristaino 1997).

The map is data/gumpertz.pepper.txt, as the open package agridat gives it out under the MIT licence
(data/README.md). The diseased plots are counted from the map; joins and quadrats are recomputed
here, and held against PySAL's esda, which shares no code with us. Counts are exact; variances are
held to the digits that were noted down.
"""

import csv
from pathlib import Path

import esda
import libpysal
import numpy as np
import pytest

from shedbook.agronomy.dispersion import binomial_dispersion, mean_and_variance, variance_to_mean
from shedbook.agronomy.join_counts import Place, expected_both, permutation_p, rook_joins

DATA = Path(__file__).parent / "data" / "gumpertz.pepper.txt"
SIDE = 20
FIELDS = ("F1", "F2")
# Diseased plots; joins of both, neither and one; expected joins of both.
JOINS = {"F1": (54, 34, 585, 141, 13.6286), "F2": (61, 64, 596, 100, 17.4286)}
# Of quadrats of 2 by 2 plots: mean, variance, ratio, and ratio to the binomial's variance.
QUADRATS = {"F1": (0.54, 0.9378, 1.7366, 2.0077), "F2": (0.61, 1.3514, 2.2154, 2.6141)}
ROUNDS, SEED = 199, 1997
NOTED = 5e-5


def _map() -> dict[str, dict[Place, bool]]:
    fields: dict[str, dict[Place, bool]] = {field: {} for field in FIELDS}
    with DATA.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file, delimiter="\t"):
            place = (int(row["row"]), int(row["quadrat"]))
            fields[row["field"]][place] = row["disease"] == "Y"
    return fields


MAP = _map()


def _ill(field: str) -> list[Place]:
    return [place for place, is_ill in MAP[field].items() if is_ill]


def _quadrats(field: str) -> list[int]:
    return [
        sum(MAP[field][row + down, place + along] for down in (0, 1) for along in (0, 1))
        for row in range(1, SIDE, 2)
        for place in range(1, SIDE, 2)
    ]


@pytest.mark.parametrize("field", FIELDS)
def test_the_map_is_whole_and_has_the_counted_diseased_plots(field: str) -> None:
    assert len(MAP[field]) == SIDE * SIDE
    assert len(_ill(field)) == JOINS[field][0]


@pytest.mark.parametrize("field", FIELDS)
def test_joins_of_a_field_and_what_chance_would_give(field: str) -> None:
    ill, both, neither, mixed, expected = JOINS[field]
    joins = rook_joins(_ill(field), MAP[field])
    assert joins == (both, mixed, neither)
    assert sum(joins) == 2 * SIDE * (SIDE - 1)
    assert expected_both(ill, SIDE * SIDE, sum(joins)) == pytest.approx(expected, abs=NOTED)


@pytest.mark.parametrize("field", FIELDS)
def test_quadrats_of_a_field_are_clumped_as_noted(field: str) -> None:
    mean, variance, ratio, binomial = QUADRATS[field]
    counts = _quadrats(field)
    found = mean_and_variance(counts)
    assert found == pytest.approx((mean, variance), abs=NOTED)
    assert variance_to_mean(counts) == pytest.approx(ratio, abs=NOTED)
    assert binomial_dispersion(*found, 4) == pytest.approx(binomial, abs=NOTED)


def test_both_fields_are_clumped_and_the_second_more() -> None:
    assert 1 < variance_to_mean(_quadrats("F1")) < variance_to_mean(_quadrats("F2"))
    for field in FIELDS:
        # No lot of 199 puts as many diseased plots beside each other.
        assert permutation_p(_ill(field), MAP[field], ROUNDS, SEED) == 1 / (ROUNDS + 1)


# pandas tells esda of a change to come; that is not ours to mend.
@pytest.mark.filterwarnings("ignore::pandas.errors.Pandas4Warning")
@pytest.mark.parametrize("field", FIELDS)
def test_joins_and_chance_are_those_of_an_independent_implementation(
    field: str, capsys: pytest.CaptureFixture[str]
) -> None:
    weights = libpysal.weights.lat2W(SIDE, SIDE)
    grid = np.array(
        [MAP[field][row, place] for row in range(1, SIDE + 1) for place in range(1, SIDE + 1)]
    ).astype(int)
    np.random.seed(SEED)
    theirs = esda.Join_Counts(grid, weights, permutations=ROUNDS)
    ours = rook_joins(_ill(field), MAP[field])
    chance = permutation_p(_ill(field), MAP[field], ROUNDS, SEED)
    assert ours == (theirs.bb, theirs.bw, theirs.ww)
    assert sum(ours) == theirs.J
    assert chance == pytest.approx(theirs.p_sim_bb, abs=1e-12)
    # The mean of their lots lies about our expectation: five standard errors leave room for luck.
    expected = expected_both(len(_ill(field)), SIDE * SIDE, sum(ours))
    error = np.std(theirs.sim_bb) / ROUNDS**0.5
    assert theirs.mean_bb == pytest.approx(expected, abs=5 * error)
    with capsys.disabled():
        print(f"\n{field}: joins {ours} alike, chance {chance}; their lots {theirs.mean_bb:.3f}")
