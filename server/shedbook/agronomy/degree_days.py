"""Degree days of one day from its lowest and highest temperature.

Python only beside it: degree_days_more.py. Twin: client/agronomy/degree_days.js.
"""

from shedbook.agronomy.elementary import PI, asin, cos
from shedbook.agronomy.errors import OutOfRange


def average(low_c: float, high_c: float, lower_c: float) -> float:
    """How far the day's mean lies above the lower threshold.

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest temperature of the day. [deg C] low_c to 60.
    lower_c : float, scalar
        Below it nothing develops. [deg C] -60 to 60.

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
    mcmaster-wilhelm-1997, method 1
    """
    check_day(low_c, high_c, lower_c, None)
    above = (low_c + high_c) / 2 - lower_c
    return above if above > 0 else 0.0


def modified_average(
    low_c: float, high_c: float, lower_c: float, upper_c: float | None = None
) -> float:
    """The average after both readings are brought between the thresholds.

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest temperature of the day. [deg C] low_c to 60.
    lower_c : float, scalar
        A colder reading counts as this. [deg C] -60 to 60.
    upper_c : float or None, scalar
        A warmer reading counts as this; None for no limit. [deg C] Above lower_c, to 60.

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
    isu-icm-1999
    """
    check_day(low_c, high_c, lower_c, upper_c)
    low = max(low_c, lower_c)
    high = max(high_c, lower_c)
    if upper_c is not None:
        low = min(low, upper_c)
        high = min(high, upper_c)
    return (low + high) / 2 - lower_c


def single_sine(low_c: float, high_c: float, lower_c: float, upper_c: float | None = None) -> float:
    """The area between the thresholds under one sine wave through the day's low and high.

    Above the upper threshold development goes on at the threshold's speed (horizontal cutoff).

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest temperature of the day. [deg C] low_c to 60.
    lower_c : float, scalar
        Below it nothing develops. [deg C] -60 to 60.
    upper_c : float or None, scalar
        Above it nothing goes faster; None for no limit. [deg C] Above lower_c, to 60.

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
    baskerville-emin-1969
    """
    check_day(low_c, high_c, lower_c, upper_c)
    total = sine_above(low_c, high_c, lower_c)
    if upper_c is not None:
        total = total - sine_above(low_c, high_c, upper_c)
    return total if total > 0 else 0.0


def sine_above(low_c: float, high_c: float, threshold_c: float) -> float:
    """The area over one threshold under a full day's sine wave.

    Parameters
    ----------
    low_c : float, scalar
        Lowest temperature of the wave. [deg C]
    high_c : float, scalar
        Highest temperature of the wave. [deg C] low_c or more.
    threshold_c : float, scalar
        [deg C]

    Returns
    -------
    float, scalar
        [deg C day] 0 or more.

    Raises
    ------
    Nothing
        single_sine has looked at the arguments.

    Source
    ------
    baskerville-emin-1969
    """
    mean = (low_c + high_c) / 2
    if threshold_c >= high_c:
        return 0.0
    if threshold_c <= low_c:
        return mean - threshold_c
    swing = (high_c - low_c) / 2
    # Rounding may carry the ratio a hair past one where low and high all but touch.
    ratio = max(-1.0, min(1.0, (threshold_c - mean) / swing))
    angle = asin(ratio)
    return ((mean - threshold_c) * (PI / 2 - angle) + swing * cos(angle)) / PI


def check_day(low_c: float, high_c: float, lower_c: float, upper_c: float | None) -> None:
    """Refuse a day or thresholds that no method here can count with.

    Parameters
    ----------
    low_c : float, scalar
        [deg C] -60 to 60.
    high_c : float, scalar
        [deg C] low_c to 60.
    lower_c : float, scalar
        [deg C] -60 to 60.
    upper_c : float or None, scalar
        [deg C] Above lower_c, to 60.

    Returns
    -------
    None
        All lie in their span.

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    common practice, no source
    """
    if not -60 <= low_c <= 60:
        raise OutOfRange("low_c", low_c, "between -60 and 60")
    if not low_c <= high_c <= 60:
        raise OutOfRange("high_c", high_c, "between low_c and 60")
    if not -60 <= lower_c <= 60:
        raise OutOfRange("lower_c", lower_c, "between -60 and 60")
    if upper_c is not None and not lower_c < upper_c <= 60:
        raise OutOfRange("upper_c", upper_c, "above lower_c and at most 60")
