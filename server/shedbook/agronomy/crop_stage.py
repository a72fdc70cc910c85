"""How a crop's thirst and the depth of its roots change from planting to the last pick.

Four stages, in days: first growth, development, full growth, late season. Twin:
client/agronomy/crop_stage.js.
"""

from collections.abc import Sequence

from shedbook.agronomy.errors import OutOfRange

STAGES = ("initial", "development", "mid", "late")


def stage_of(stage_days: Sequence[float], days_since_planting: float) -> str:
    """Which of the four stages a crop is in; past their last day it stays in the late one.

    Parameters
    ----------
    stage_days : sequence of float, four
        Length of each stage. [day] 0 or more each.
    days_since_planting : float, scalar
        0 on the day of planting. [day] 0 or more.

    Returns
    -------
    str
        initial, development, mid or late.

    Raises
    ------
    OutOfRange
        Not four stages, a stage below 0, or a day before planting.

    Source
    ------
    fao56, table 11
    """
    _check(stage_days, days_since_planting)
    end = 0.0
    for i in range(3):
        end = end + stage_days[i]
        if days_since_planting < end:
            return STAGES[i]
    return STAGES[3]


def crop_coefficient(
    kc_ini: float,
    kc_mid: float,
    kc_end: float,
    stage_days: Sequence[float],
    days_since_planting: float,
) -> float:
    """The crop's thirst against the reference grass, on a line between the stages' values.

    Past the last day the value of the end stands: many gardens pick on for weeks.

    Parameters
    ----------
    kc_ini : float, scalar
        During the first stage. [-] 0 to 2.
    kc_mid : float, scalar
        During full growth. [-] 0 to 2.
    kc_end : float, scalar
        On the last day. [-] 0 to 2.
    stage_days : sequence of float, four
        Length of each stage. [day] 0 or more each.
    days_since_planting : float, scalar
        0 on the day of planting. [day] 0 or more.

    Returns
    -------
    float, scalar
        [-]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 66
    """
    for name, kc in (("kc_ini", kc_ini), ("kc_mid", kc_mid), ("kc_end", kc_end)):
        if not 0 <= kc <= 2:
            raise OutOfRange(name, kc, "between 0 and 2")
    _check(stage_days, days_since_planting)
    initial, development, mid, late = stage_days
    if days_since_planting < initial + development:
        return _grown(kc_ini, kc_mid, development, days_since_planting - initial)
    return _grown(kc_mid, kc_end, late, days_since_planting - initial - development - mid)


def root_depth(
    start_m: float, full_m: float, stage_days: Sequence[float], days_since_planting: float
) -> float:
    """Depth of the roots: it grows with the crop's thirst, and is full when that is.

    Parameters
    ----------
    start_m : float, scalar
        At planting and through the first stage. [m] Above 0, up to full_m.
    full_m : float, scalar
        From full growth on. [m] Up to 5.
    stage_days : sequence of float, four
        Length of each stage. [day] 0 or more each.
    days_since_planting : float, scalar
        0 on the day of planting. [day] 0 or more.

    Returns
    -------
    float, scalar
        [m]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, annex 8, page 279
    """
    if not 0 < full_m <= 5:
        raise OutOfRange("full_m", full_m, "above 0 and at most 5")
    if not 0 < start_m <= full_m:
        raise OutOfRange("start_m", start_m, "above 0 and at most the full depth")
    _check(stage_days, days_since_planting)
    return _grown(start_m, full_m, stage_days[1], days_since_planting - stage_days[0])


def _grown(before: float, after: float, length: float, day: float) -> float:
    """The value on a line that rises or falls over `length` days, level before and after."""
    if day < 0:
        return before
    if day >= length:
        return after
    return before + day / length * (after - before)


def _check(stage_days: Sequence[float], days_since_planting: float) -> None:
    if len(stage_days) != 4:
        raise OutOfRange("stage_days", len(stage_days), "four stages")
    for days in stage_days:
        if not days >= 0:
            raise OutOfRange("stage_days", days, "0 or more")
    if not days_since_planting >= 0:
        raise OutOfRange("days_since_planting", days_since_planting, "0 or more")
