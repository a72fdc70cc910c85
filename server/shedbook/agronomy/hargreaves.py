"""Reference evapotranspiration from a minimum-maximum thermometer and the latitude.

Twin: client/agronomy/hargreaves.js.
"""

import math

from shedbook.agronomy.elementary import PI, acos, cos, sin
from shedbook.agronomy.errors import OutOfRange

SOLAR_CONSTANT_MJ_PER_MIN = 0.082
MM_PER_MJ = 0.408
LARGEST_LATITUDE_DEG = 65


def sunset_hour_angle(latitude_deg: float, day_of_year: int) -> float:
    """How far the earth turns between noon and sunset.

    Parameters
    ----------
    latitude_deg : float, scalar
        North positive. [deg] -65 to 65, where the sun rises and sets every day.
    day_of_year : int, scalar
        1 on 1 January. [day] 1 to 366.

    Returns
    -------
    float, scalar
        [rad]

    Raises
    ------
    OutOfRange
        Either argument outside its span.

    Source
    ------
    fao56, eq. 25
    """
    latitude = _latitude(latitude_deg)
    declination = solar_declination(day_of_year)
    return acos(-sin(latitude) * sin(declination) / (cos(latitude) * cos(declination)))


def solar_declination(day_of_year: int) -> float:
    """How far north of the equator the sun stands overhead.

    Parameters
    ----------
    day_of_year : int, scalar
        1 on 1 January. [day] 1 to 366.

    Returns
    -------
    float, scalar
        [rad]

    Raises
    ------
    OutOfRange
        The day is outside its span.

    Source
    ------
    fao56, eq. 24
    """
    return 0.409 * sin(_year_angle(day_of_year) - 1.39)


def relative_distance(day_of_year: int) -> float:
    """The inverse square of the distance to the sun against its mean.

    Parameters
    ----------
    day_of_year : int, scalar
        1 on 1 January. [day] 1 to 366.

    Returns
    -------
    float, scalar
        [-]

    Raises
    ------
    OutOfRange
        The day is outside its span.

    Source
    ------
    fao56, eq. 23
    """
    return 1 + 0.033 * cos(_year_angle(day_of_year))


def extraterrestrial_radiation(latitude_deg: float, day_of_year: int) -> float:
    """Solar radiation above the atmosphere over one day.

    Parameters
    ----------
    latitude_deg : float, scalar
        North positive. [deg] -65 to 65, where the sun rises and sets every day.
    day_of_year : int, scalar
        1 on 1 January. [day] 1 to 366.

    Returns
    -------
    float, scalar
        [MJ m-2 day-1]

    Raises
    ------
    OutOfRange
        Either argument outside its span.

    Source
    ------
    fao56, eq. 21
    """
    latitude = _latitude(latitude_deg)
    declination = solar_declination(day_of_year)
    sunset = sunset_hour_angle(latitude_deg, day_of_year)
    height = sunset * sin(latitude) * sin(declination) + cos(latitude) * cos(declination) * sin(
        sunset
    )
    per_day = 24 * 60 / PI * SOLAR_CONSTANT_MJ_PER_MIN
    return per_day * relative_distance(day_of_year) * height


def hargreaves_et0(low_c: float, high_c: float, radiation_mj: float) -> float:
    """Water that a reference grass gives off in a day, from its temperatures alone.

    Below a mean of -17.8 °C the formula turns negative; nothing is lost then.

    Parameters
    ----------
    low_c : float, scalar
        Lowest air temperature of the day. [deg C] -60 to 60.
    high_c : float, scalar
        Highest air temperature of the day. [deg C] low_c to 60.
    radiation_mj : float, scalar
        Radiation above the atmosphere (extraterrestrial_radiation). [MJ m-2 day-1] 0 to 60.

    Returns
    -------
    float, scalar
        [mm day-1]

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    fao56, eq. 52
    """
    if not -60 <= low_c <= 60:
        raise OutOfRange("low_c", low_c, "between -60 and 60")
    if not low_c <= high_c <= 60:
        raise OutOfRange("high_c", high_c, "between low_c and 60")
    if not 0 <= radiation_mj <= 60:
        raise OutOfRange("radiation_mj", radiation_mj, "between 0 and 60")
    warmth = (low_c + high_c) / 2 + 17.8
    if warmth <= 0:
        return 0.0
    return 0.0023 * warmth * math.sqrt(high_c - low_c) * MM_PER_MJ * radiation_mj


def _latitude(latitude_deg: float) -> float:
    if not -LARGEST_LATITUDE_DEG <= latitude_deg <= LARGEST_LATITUDE_DEG:
        raise OutOfRange("latitude_deg", latitude_deg, "between -65 and 65")
    return latitude_deg * PI / 180


def _year_angle(day_of_year: int) -> float:
    if not 1 <= day_of_year <= 366:
        raise OutOfRange("day_of_year", day_of_year, "between 1 and 366")
    return 2 * PI / 365 * day_of_year
