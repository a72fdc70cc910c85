"""How far a share that was found among a few may be from the share among all.

Twin: client/agronomy/proportion.js.
"""

import math
from typing import NamedTuple

from shedbook.agronomy.errors import NotEnoughData, OutOfRange

# The point of the standard normal curve that leaves 2.5 % above it, for limits of 95 %.
Z_95 = 1.959963984540054


class Interval(NamedTuple):
    """Between which shares the truth is taken to lie."""

    low: float
    high: float


def wilson_interval(affected: float, looked: float, z: float = Z_95) -> Interval:
    """The lower and upper limit of a share, by Wilson's score method without correction.

    Parameters
    ----------
    affected : float, scalar
        Units found affected. [-] 0 to `looked`.
    looked : float, scalar
        Units looked at. [-] 1 or more.
    z : float, scalar
        Point of the standard normal curve for the wanted confidence. [-] above 0, up to 6.

    Returns
    -------
    Interval
        Lower and upper limit. [-] 0 to 1.

    Raises
    ------
    NotEnoughData
        Nothing was looked at.
    OutOfRange
        More affected than looked at, fewer than none, or an odd `z`.

    Source
    ------
    newcombe1998, method 3; wilson1927
    """
    if not looked >= 1:
        raise NotEnoughData("looked", looked, "1 or more")
    if not 0 <= affected <= looked:
        raise OutOfRange("affected", affected, "between 0 and the number looked at")
    if not 0 < z <= 6:
        raise OutOfRange("z", z, "above 0 and at most 6")
    square = z * z
    middle = 2 * affected + square
    half = z * math.sqrt(square + 4 * affected * (1 - affected / looked))
    width = 2 * (looked + square)
    # At the ends the limit is exact; the last bits must not say otherwise.
    low = 0.0 if affected == 0 else (middle - half) / width
    high = 1.0 if affected == looked else (middle + half) / width
    return Interval(low, high)
