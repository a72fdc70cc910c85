"""Which wish goes to which bed at the least cost, as an integer programme. Costs are plain numbers.

The one module that knows the solver.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from highspy import Highs

SECONDS = 20.0
# Far below any difference of cost that a row can make.
EXACT = 1e-6


@dataclass(frozen=True)
class Problem:
    """Wishes by number, beds by number.

    costs[wish][bed] is what the wish would cost there; shares[wish][bed] the part of the whole bed
    that it takes, None where it does not fit; rooms[bed] the part that is free. near[bed] are the
    bed itself and those beside it. apart[(one, other)] is what two wishes near each other cost,
    one < other, never less than nothing.
    """

    costs: list[list[float]]
    shares: list[list[float | None]]
    rooms: list[float]
    near: list[list[int]]
    apart: Mapping[tuple[int, int], float]
    unmet_cost: float


@dataclass(frozen=True)
class Placement:
    """The bed of each wish, None where it stays unmet; what that costs, and could at best."""

    beds: list[int | None]
    cost: float
    bound: float

    @property
    def gap(self) -> float:
        """By how much the cost may lie above the best possible; 0 where it is proven."""
        return max(0.0, self.cost - self.bound)


def cost_of(problem: Problem, beds: list[int | None]) -> float:
    """What a placement costs; the measure that the solver makes small."""
    cost = 0.0
    for wish, bed in enumerate(beds):
        cost += problem.unmet_cost if bed is None else problem.costs[wish][bed]
    for (one, other), apart in problem.apart.items():
        first, second = beds[one], beds[other]
        if first is not None and second is not None and second in problem.near[first]:
            cost += apart
    return cost


def place(problem: Problem, seconds: float = SECONDS) -> Placement:
    """The placement of least cost, or the best one found within the time, with its bound."""
    from highspy import SolutionStatus

    solver = _new_solver(seconds)
    at = _add_wishes(solver, problem)
    _add_rooms(solver, problem, at)
    _add_apart(solver, problem, at)
    # Nothing placed is always allowed, and is what a solver that runs out of time falls back on.
    beds: list[int | None] = [None] * len(problem.costs)
    solver.run()
    info = solver.getInfo()
    if info.primal_solution_status == SolutionStatus.kSolutionStatusFeasible:
        values = solver.getSolution().col_value
        for (wish, bed), column in at.items():
            if values[column] > 0.5:
                beds[wish] = bed
    unmet = problem.unmet_cost * len(problem.costs)
    bound = unmet + info.mip_dual_bound if at else cost_of(problem, beds)
    return Placement(beds, cost_of(problem, beds), bound)


def _new_solver(seconds: float) -> "Highs":
    """A silent solver. Its module loads numpy, which no other command waits for."""
    from highspy import Highs

    solver = Highs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("time_limit", seconds)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", EXACT)
    return solver


def _add_wishes(solver: "Highs", problem: Problem) -> dict[tuple[int, int], int]:
    """A yes or no for each wish in each bed that it fits; each wish in one bed at most."""
    from highspy import HighsVarType

    at: dict[tuple[int, int], int] = {}
    for wish, costs in enumerate(problem.costs):
        for bed, cost in enumerate(costs):
            share = problem.shares[wish][bed]
            if share is None or share > problem.rooms[bed] + EXACT:
                continue
            at[wish, bed] = len(at)
            solver.addVar(0.0, 1.0)
            solver.changeColCost(at[wish, bed], cost - problem.unmet_cost)
            solver.changeColIntegrality(at[wish, bed], HighsVarType.kInteger)
    for wish in range(len(problem.costs)):
        _row(solver, 1.0, {column: 1.0 for (one, _), column in at.items() if one == wish})
    return at


def _add_rooms(solver: "Highs", problem: Problem, at: dict[tuple[int, int], int]) -> None:
    """No bed takes more than its room."""
    for bed, room in enumerate(problem.rooms):
        shares = {
            column: problem.shares[wish][bed] or 0.0
            for (wish, one), column in at.items()
            if one == bed
        }
        _row(solver, room + EXACT, shares)


def _add_apart(solver: "Highs", problem: Problem, at: dict[tuple[int, int], int]) -> None:
    """A number for each two wishes that stand near each other against a rule, at its cost."""
    column = len(at)
    for (one, other), cost in problem.apart.items():
        solver.addVar(0.0, 1.0)
        solver.changeColCost(column, cost)
        for bed, near in enumerate(problem.near):
            if (one, bed) not in at:
                continue
            terms = {at[other, close]: 1.0 for close in near if (other, close) in at}
            _row(solver, 1.0, {at[one, bed]: 1.0, column: -1.0} | terms)
        column += 1


def _row(solver: "Highs", most: float, terms: Mapping[int, float]) -> None:
    if terms:
        columns, factors = list(terms), list(terms.values())
        solver.addRow(-math.inf, most, len(columns), columns, factors)
