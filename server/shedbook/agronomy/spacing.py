"""How many plants fit a bed in rows, and a container.

Twin: client/agronomy/spacing.js.
"""

import math
from typing import NamedTuple

from shedbook.agronomy.errors import OutOfRange

PATTERNS = ("square", "staggered")
# Two lengths that should be equal may differ in the last bits.
SLACK = 1e-9
# How many circles fit in one this many times as wide, for 1 to 7 circles.
WIDTHS_FOR_CIRCLES = (1.0, 2.0, 2.1547005383792515, 2.414213562373095, 2.7013016167040798, 3.0, 3.0)


class BedPlan(NamedTuple):
    """Rows along the bed: how many, the plants of each in order, and of all."""

    rows: int
    per_row: list[int]
    plants: int


def plants_in_bed(
    length_m: float,
    width_m: float,
    in_row_m: float,
    between_rows_m: float,
    edge_m: float,
    pattern: str,
) -> BedPlan:
    """Plants in rows along the length, none nearer to an edge than the margin.

    In a staggered bed every second row begins half a step later.

    Parameters
    ----------
    length_m : float, scalar
        [m] Above 0, to 1000.
    width_m : float, scalar
        [m] Above 0, to 1000.
    in_row_m : float, scalar
        From plant to plant in a row. [m] 0.01 to 100.
    between_rows_m : float, scalar
        From row to row. [m] 0.01 to 100.
    edge_m : float, scalar
        Margin free of plants on every side. [m] 0 or more.
    pattern : str
        square or staggered.

    Returns
    -------
    BedPlan
        Rows, the plants of each row, and of the bed; none where the margins take it all.

    Raises
    ------
    OutOfRange
        An argument outside its span, or another pattern.

    Source
    ------
    common practice, no source
    """
    _check(length_m, width_m, in_row_m, between_rows_m, edge_m, pattern)
    rows = _fit(width_m - 2 * edge_m, between_rows_m)
    full = _fit(length_m - 2 * edge_m, in_row_m)
    shifted = _fit(length_m - 2 * edge_m - in_row_m / 2, in_row_m)
    per_row: list[int] = []
    plants = 0
    if full > 0:
        for row in range(rows):
            is_shifted = pattern == "staggered" and row % 2 == 1
            per_row.append(shifted if is_shifted else full)
            plants = plants + per_row[row]
    return BedPlan(len(per_row), per_row, plants)


def plants_per_container(across_m: float, room_m: float) -> int:
    """Plants with a round of ground each that fit a round container.

    Parameters
    ----------
    across_m : float, scalar
        Diameter of the container. [m] Above 0, at most three times room_m.
    room_m : float, scalar
        Diameter of the ground that a plant needs. [m] Above 0.

    Returns
    -------
    int, scalar
        [-] 0 to 7.

    Raises
    ------
    OutOfRange
        An argument outside its span; a wider container is planted as a bed.

    Source
    ------
    graham-1968
    """
    if not room_m > 0:
        raise OutOfRange("room_m", room_m, "above 0")
    if not 0 < across_m <= 3 * room_m + SLACK:
        raise OutOfRange("across_m", across_m, "above 0 and at most three times room_m")
    plants = 0
    for width in WIDTHS_FOR_CIRCLES:
        if across_m / room_m + SLACK >= width:
            plants = plants + 1
    return plants


def _fit(span_m: float, step_m: float) -> int:
    """Plants on a line of this length, one at each end where the steps come out even."""
    if span_m < -SLACK:
        return 0
    return math.floor(max(0.0, span_m) / step_m + SLACK) + 1


def _check(
    length_m: float,
    width_m: float,
    in_row_m: float,
    between_rows_m: float,
    edge_m: float,
    pattern: str,
) -> None:
    for name, side in (("length_m", length_m), ("width_m", width_m)):
        if not 0 < side <= 1000:
            raise OutOfRange(name, side, "above 0 and at most 1000")
    for name, step in (("in_row_m", in_row_m), ("between_rows_m", between_rows_m)):
        if not 0.01 <= step <= 100:
            raise OutOfRange(name, step, "between 0.01 and 100")
    if not edge_m >= 0:
        raise OutOfRange("edge_m", edge_m, "0 or more")
    if pattern not in PATTERNS:
        raise OutOfRange("pattern", None, "square or staggered")
