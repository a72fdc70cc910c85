"""Further ways to count a day's degree days, for comparing; the phone counts with degree_days."""

import math

from shedbook.agronomy.degree_days import check_day, sine_above
from shedbook.agronomy.errors import OutOfRange

CUTOFFS = ("horizontal", "intermediate", "vertical")


def double_sine(
    low_c: float,
    high_c: float,
    next_low_c: float,
    lower_c: float,
    upper_c: float | None = None,
) -> float:
    """Half a sine wave up from the day's low, half a wave down to the next day's low.

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest temperature of the day. [deg C] low_c to 60.
    next_low_c : float, scalar
        Lowest temperature of the day after. [deg C] -60 to high_c.
    lower_c : float, scalar
        Below it nothing develops. [deg C] -60 to 60.
    upper_c : float or None, scalar
        Above it nothing goes faster (horizontal cutoff); None for no limit. [deg C]

    Returns
    -------
    float, scalar
        [deg C day] 0 or more.

    Raises
    ------
    OutOfRange
        An argument outside its span, or a low above the high.

    Source
    ------
    roltsch-1999
    """
    up = sine_cut(low_c, high_c, lower_c, upper_c)
    down = sine_cut(next_low_c, high_c, lower_c, upper_c)
    return (up + down) / 2


def single_triangle(
    low_c: float, high_c: float, lower_c: float, upper_c: float | None = None
) -> float:
    """The area between the thresholds under straight lines up to the high and down again.

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest temperature of the day. [deg C] low_c to 60.
    lower_c : float, scalar
        Below it nothing develops. [deg C] -60 to 60.
    upper_c : float or None, scalar
        Above it nothing goes faster (horizontal cutoff); None for no limit. [deg C]

    Returns
    -------
    float, scalar
        [deg C day] 0 or more.

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    sevacherian-1977
    """
    check_day(low_c, high_c, lower_c, upper_c)
    total = _triangle_above(low_c, high_c, lower_c)
    if upper_c is not None:
        total -= _triangle_above(low_c, high_c, upper_c)
    return max(0.0, total)


def double_triangle(
    low_c: float,
    high_c: float,
    next_low_c: float,
    lower_c: float,
    upper_c: float | None = None,
) -> float:
    """A straight line up from the day's low, another down to the next day's low.

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest temperature of the day. [deg C] low_c to 60.
    next_low_c : float, scalar
        Lowest temperature of the day after. [deg C] -60 to high_c.
    lower_c : float, scalar
        Below it nothing develops. [deg C] -60 to 60.
    upper_c : float or None, scalar
        Above it nothing goes faster (horizontal cutoff); None for no limit. [deg C]

    Returns
    -------
    float, scalar
        [deg C day] 0 or more.

    Raises
    ------
    OutOfRange
        An argument outside its span, or a low above the high.

    Source
    ------
    sevacherian-1977
    """
    up = single_triangle(low_c, high_c, lower_c, upper_c)
    down = single_triangle(next_low_c, high_c, lower_c, upper_c)
    return (up + down) / 2


def sine_cut(
    low_c: float,
    high_c: float,
    lower_c: float,
    upper_c: float | None,
    cutoff: str = "horizontal",
) -> float:
    """Single sine with one of three ways in which heat above the upper threshold counts.

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest temperature of the day. [deg C] low_c to 60.
    lower_c : float, scalar
        Below it nothing develops. [deg C] -60 to 60.
    upper_c : float or None, scalar
        From it on the cutoff counts; None for no limit. [deg C] Above lower_c, to 60.
    cutoff : str
        horizontal: as fast as at the threshold; intermediate: slower the further above it;
        vertical: not at all.

    Returns
    -------
    float, scalar
        [deg C day] 0 or more.

    Raises
    ------
    OutOfRange
        An argument outside its span, the low above the high, or another cutoff.

    Source
    ------
    roltsch-1999
    """
    check_day(low_c, high_c, lower_c, upper_c)
    if cutoff not in CUTOFFS:
        raise OutOfRange("cutoff", None, "horizontal, intermediate or vertical")
    total = sine_above(low_c, high_c, lower_c)
    if upper_c is None:
        return total
    excess = sine_above(low_c, high_c, upper_c)
    if cutoff == "intermediate":
        total -= 2 * excess
    elif cutoff == "vertical":
        total -= excess + (upper_c - lower_c) * time_above(low_c, high_c, upper_c)
    else:
        total -= excess
    return max(0.0, total)


def time_above(low_c: float, high_c: float, threshold_c: float) -> float:
    """Share of the day that a sine wave between low and high spends above a threshold.

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest temperature of the day. [deg C] low_c to 60.
    threshold_c : float, scalar
        [deg C] -60 to 60.

    Returns
    -------
    float, scalar
        [-] 0 to 1.

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    baskerville-emin-1969
    """
    check_day(low_c, high_c, threshold_c, None)
    if threshold_c >= high_c:
        return 0.0
    if threshold_c <= low_c:
        return 1.0
    ratio = (2 * threshold_c - low_c - high_c) / (high_c - low_c)
    return math.acos(max(-1.0, min(1.0, ratio))) / math.pi


def _triangle_above(low_c: float, high_c: float, threshold_c: float) -> float:
    if threshold_c >= high_c:
        return 0.0
    if threshold_c <= low_c:
        return (low_c + high_c) / 2 - threshold_c
    return (high_c - threshold_c) ** 2 / (2 * (high_c - low_c))
