"""Whether affected plants stand beside each other more often than chance would put them."""

from collections.abc import Collection
from random import Random
from typing import NamedTuple

from shedbook.agronomy.errors import NotEnoughData, OutOfRange

# Row and place in the row.
Place = tuple[int, int]


class Joins(NamedTuple):
    """Pairs of neighbours: both affected, one of them, neither."""

    both: int
    mixed: int
    neither: int


def rook_joins(affected: Collection[Place], standing: Collection[Place]) -> Joins:
    """Count the pairs that stand next to each other along the row or across it.

    Parameters
    ----------
    affected : collection of (row, place)
        Where the affected plants stand. [-] each also in `standing`.
    standing : collection of (row, place)
        Where plants stand; a gap in the rows has no neighbours. [-]

    Returns
    -------
    Joins
        [pairs]

    Raises
    ------
    OutOfRange
        An affected plant that does not stand.

    Source
    ------
    cliff1981, chapter 1
    """
    places, ill = frozenset(standing), frozenset(affected)
    if not ill <= places:
        raise OutOfRange("affected", len(ill - places), "among the plants that stand")
    both = mixed = neither = 0
    for row, place in places:
        for beside in ((row, place + 1), (row + 1, place)):
            if beside not in places:
                continue
            count = ((row, place) in ill) + (beside in ill)
            both += count == 2
            mixed += count == 1
            neither += count == 0
    return Joins(both, mixed, neither)


def expected_both(affected: int, standing: int, joins: int) -> float:
    """Pairs of affected neighbours to expect when the affected plants are drawn by lot.

    Parameters
    ----------
    affected : int, scalar
        Affected plants. [plants] 0 to `standing`.
    standing : int, scalar
        Plants that stand. [plants] two or more.
    joins : int, scalar
        Pairs of neighbours in all. [pairs] 0 or more.

    Returns
    -------
    float, scalar
        [pairs]

    Raises
    ------
    NotEnoughData
        Fewer than two plants.
    OutOfRange
        More affected plants than stand, or a number below 0.

    Source
    ------
    cliff1981, chapter 1
    """
    if standing < 2:
        raise NotEnoughData("standing", standing, "two or more")
    if not 0 <= affected <= standing:
        raise OutOfRange("affected", affected, "between 0 and the plants that stand")
    if not joins >= 0:
        raise OutOfRange("joins", joins, "0 or more")
    return joins * affected * (affected - 1) / (standing * (standing - 1))


def permutation_p(
    affected: Collection[Place], standing: Collection[Place], rounds: int, seed: int
) -> float:
    """How often lots put at least as many affected plants beside each other as were found.

    Parameters
    ----------
    affected : collection of (row, place)
        Where the affected plants stand. [-] two or more, each also in `standing`.
    standing : collection of (row, place)
        Where plants stand. [-]
    rounds : int, scalar
        Times that lots are drawn. [-] 1 or more.
    seed : int, scalar
        Start of the row of lots, so that the answer is the same each time. [-]

    Returns
    -------
    float, scalar
        The finding itself counts as one of the rounds, so it is never 0. [-] 0 to 1.

    Raises
    ------
    NotEnoughData
        Fewer than two affected plants, or all of them.
    OutOfRange
        No round, or an affected plant that does not stand.

    Source
    ------
    phipson2010; cliff1981, chapter 2
    """
    if len(affected) < 2 or len(affected) >= len(standing):
        raise NotEnoughData("affected", len(affected), "two or more, and not all plants")
    if rounds < 1:
        raise OutOfRange("rounds", rounds, "1 or more")
    found = rook_joins(affected, standing).both
    places = sorted(standing)
    numbers = {place: number for number, place in enumerate(places)}
    beside = [
        [numbers[near] for near in ((row, place + 1), (row + 1, place)) if near in numbers]
        for row, place in places
    ]
    lots = Random(seed)
    as_many = 0
    for _ in range(rounds):
        drawn = set(lots.sample(range(len(places)), len(affected)))
        pairs = 0
        for number in drawn:
            for near in beside[number]:
                pairs += near in drawn
        as_many += pairs >= found
    return (as_many + 1) / (rounds + 1)
