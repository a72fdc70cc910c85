"""The solver against every placement there is, on small gardens, and its word on large ones."""

import itertools
from random import Random

import pytest

from shedbook.reports.placing import EXACT, Placement, Problem, cost_of, place

SMALL_GARDENS = 60
BEDS, WISHES = 4, 5


def a_problem(chance: Random, beds: int, wishes: int) -> Problem:
    """Beds in a row, some side by side; wishes of any size, with any weight against them."""
    near = [[bed] for bed in range(beds)]
    for one, other in itertools.combinations(range(beds), 2):
        if chance.random() < 0.4:
            near[one].append(other)
            near[other].append(one)
    return Problem(
        costs=[
            [chance.choice([-2, 0, 0, 1, 12, 13, 40, 44, 110]) for _ in range(beds)]
            for _ in range(wishes)
        ],
        shares=[
            [chance.choice([None, 0.2, 0.3, 0.5, 0.75, 1.0]) for _ in range(beds)]
            for _ in range(wishes)
        ],
        rooms=[chance.choice([0.0, 0.4, 1.0, 1.0]) for _ in range(beds)],
        near=near,
        apart={
            pair: chance.choice([1, 2, 4])
            for pair in itertools.combinations(range(wishes), 2)
            if chance.random() < 0.4
        },
        unmet_cost=100,
    )


def is_allowed(problem: Problem, beds: list[int | None]) -> bool:
    used = [0.0] * len(problem.rooms)
    for wish, bed in enumerate(beds):
        if bed is None:
            continue
        share = problem.shares[wish][bed]
        if share is None:
            return False
        used[bed] += share
    return all(taken <= room + EXACT for taken, room in zip(used, problem.rooms, strict=True))


def least_cost(problem: Problem) -> float:
    """By looking at every placement."""
    choices = [None, *range(len(problem.rooms))]
    every = (list(beds) for beds in itertools.product(choices, repeat=len(problem.costs)))
    return min(cost_of(problem, beds) for beds in every if is_allowed(problem, beds))


@pytest.fixture(scope="module")
def small() -> list[tuple[Problem, Placement]]:
    chance = Random(6)
    problems = [a_problem(chance, BEDS, WISHES) for _ in range(SMALL_GARDENS)]
    return [(problem, place(problem)) for problem in problems]


def test_place_on_small_gardens_equals_the_best_of_all_placements(
    small: list[tuple[Problem, Placement]],
) -> None:
    costs = [placed.cost for _, placed in small]
    assert costs == pytest.approx([least_cost(problem) for problem, _ in small], abs=EXACT)


def test_place_on_small_gardens_keeps_to_the_room_and_proves_it(
    small: list[tuple[Problem, Placement]],
) -> None:
    for problem, placed in small:
        assert is_allowed(problem, placed.beds)
        assert placed.gap == pytest.approx(0, abs=1e-4)
    beds = {bed for _, placed in small for bed in placed.beds}
    assert beds == {None, *range(BEDS)}


def test_place_puts_wishes_apart_where_it_costs_less() -> None:
    problem = Problem([[0, 1], [0, 1]], [[0.4, 0.4]] * 2, [1.0, 1.0], [[0], [1]], {(0, 1): 2}, 100)
    assert sorted(place(problem).beds, key=str) == [0, 1]


def test_place_leaves_out_a_wish_that_costs_more_than_that() -> None:
    problem = Problem([[101.0]], [[1.0]], [1.0], [[0]], {}, 100)
    assert place(problem).beds == [None]


@pytest.mark.parametrize("wishes", [0, 2])
def test_place_without_beds_leaves_all_unmet(wishes: int) -> None:
    placed = place(Problem([[]] * wishes, [[]] * wishes, [], [], {}, 100))
    assert placed.beds == [None] * wishes
    assert placed.cost == 100 * wishes
    assert placed.gap == 0


def test_place_out_of_time_says_by_how_much_it_may_be_wrong() -> None:
    problem = a_problem(Random(1), 30, 40)
    placed = place(problem, seconds=0.2)
    assert is_allowed(problem, placed.beds)
    assert placed.bound <= placed.cost
    assert placed.gap == pytest.approx(placed.cost - placed.bound)
    assert placed.gap > 0
