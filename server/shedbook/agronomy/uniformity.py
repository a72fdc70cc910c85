"""How evenly a watering falls, from catch cans set out in the bed.

Twin: client/agronomy/uniformity.js.
"""

import math
from collections.abc import Sequence

from shedbook.agronomy.errors import NotEnoughData, OutOfRange

FEWEST_CANS = 4


def distribution_uniformity_low_quarter(volumes: Sequence[float]) -> float:
    """Mean of the emptiest quarter of the cans against the mean of all.

    The quarter is rounded up: of 15 cans, the emptiest 4.

    Parameters
    ----------
    volumes : sequence of float
        What each can caught, all cans alike. [mL] 0 or more.

    Returns
    -------
    float, scalar
        [-] 0 to 1.

    Raises
    ------
    NotEnoughData
        Fewer than four cans.
    OutOfRange
        A volume below 0, or all cans empty.

    Source
    ------
    spreval, DU; keller-bliesner-2000
    """
    mean = _mean_caught(volumes)
    quarter = math.floor((len(volumes) + 3) / 4)
    low = 0.0
    for volume in sorted(volumes)[:quarter]:
        low = low + volume
    return low / quarter / mean


def christiansen(volumes: Sequence[float]) -> float:
    """One less the mean deviation against the mean; below 0 where a few cans caught nearly all.

    Parameters
    ----------
    volumes : sequence of float
        What each can caught, all cans alike. [mL] 0 or more.

    Returns
    -------
    float, scalar
        [-] At most 1.

    Raises
    ------
    NotEnoughData
        Fewer than four cans.
    OutOfRange
        A volume below 0, or all cans empty.

    Source
    ------
    christiansen-1942
    """
    mean = _mean_caught(volumes)
    deviations = 0.0
    for volume in volumes:
        deviations = deviations + abs(volume - mean)
    return 1 - deviations / (len(volumes) * mean)


def depth_per_hour(volumes: Sequence[float], can_area_cm2: float, duration_min: float) -> float:
    """How much water the cans say falls in an hour.

    Parameters
    ----------
    volumes : sequence of float
        What each can caught. [mL] 0 or more.
    can_area_cm2 : float, scalar
        Mouth of one can. [cm2] Above 0.
    duration_min : float, scalar
        How long the water ran. [min] Above 0.

    Returns
    -------
    float, scalar
        [mm h-1]

    Raises
    ------
    NotEnoughData
        Fewer than four cans.
    OutOfRange
        An argument outside its span, or all cans empty.

    Source
    ------
    umd-audit
    """
    mean = _mean_caught(volumes)
    if not can_area_cm2 > 0:
        raise OutOfRange("can_area_cm2", can_area_cm2, "above 0")
    if not duration_min > 0:
        raise OutOfRange("duration_min", duration_min, "above 0")
    return mean / can_area_cm2 * 10 * 60 / duration_min


def _mean_caught(volumes: Sequence[float]) -> float:
    if len(volumes) < FEWEST_CANS:
        raise NotEnoughData("volumes", len(volumes), "at least four cans")
    total = 0.0
    for volume in volumes:
        if not volume >= 0:
            raise OutOfRange("volumes", volume, "0 or more")
        total = total + volume
    if total == 0:
        raise OutOfRange("volumes", 0, "above 0 in at least one can")
    return total / len(volumes)
