"""Water vapour in air: what it can hold, and what it holds by what was measured."""

import math

from shedbook.agronomy.errors import OutOfRange


def saturation_vapour_pressure(temperature_c: float) -> float:
    """Vapour pressure at which air of this temperature can hold no more.

    Parameters
    ----------
    temperature_c : float, scalar
        [deg C] -60 to 60.

    Returns
    -------
    float, scalar
        [kPa]

    Raises
    ------
    OutOfRange
        The temperature is outside its span.

    Source
    ------
    fao56, eq. 11
    """
    _temperature("temperature_c", temperature_c)
    return 0.6108 * math.exp(17.27 * temperature_c / (temperature_c + 237.3))


def mean_saturation_vapour_pressure(low_c: float, high_c: float) -> float:
    """The mean of the saturation pressures at the day's lowest and highest temperature.

    Parameters
    ----------
    low_c : float, scalar
        [deg C] -60 to 60.
    high_c : float, scalar
        [deg C] low_c to 60.

    Returns
    -------
    float, scalar
        [kPa]

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    fao56, eq. 12
    """
    _day(low_c, high_c)
    return (saturation_vapour_pressure(low_c) + saturation_vapour_pressure(high_c)) / 2


def slope_of_saturation(temperature_c: float) -> float:
    """How fast the saturation vapour pressure rises with temperature.

    Parameters
    ----------
    temperature_c : float, scalar
        [deg C] -60 to 60.

    Returns
    -------
    float, scalar
        [kPa (deg C)-1]

    Raises
    ------
    OutOfRange
        The temperature is outside its span.

    Source
    ------
    fao56, eq. 13
    """
    return 4098 * saturation_vapour_pressure(temperature_c) / (temperature_c + 237.3) ** 2


def vapour_pressure_from_dew_point(dew_point_c: float) -> float:
    """Actual vapour pressure where the dew point is known.

    Parameters
    ----------
    dew_point_c : float, scalar
        [deg C] -60 to 60.

    Returns
    -------
    float, scalar
        [kPa]

    Raises
    ------
    OutOfRange
        The dew point is outside its span.

    Source
    ------
    fao56, eq. 14
    """
    _temperature("dew_point_c", dew_point_c)
    return saturation_vapour_pressure(dew_point_c)


def vapour_pressure_from_humidity(
    low_c: float, high_c: float, lowest_percent: float, highest_percent: float
) -> float:
    """Actual vapour pressure from the day's lowest and highest relative humidity.

    Parameters
    ----------
    low_c : float, scalar
        [deg C] -60 to 60.
    high_c : float, scalar
        [deg C] low_c to 60.
    lowest_percent : float, scalar
        Relative humidity when the air was warmest. [%] 0 to highest_percent.
    highest_percent : float, scalar
        Relative humidity when the air was coldest. [%] Up to 100.

    Returns
    -------
    float, scalar
        [kPa]

    Raises
    ------
    OutOfRange
        An argument outside its span, the low above the high, or the humidities turned round.

    Source
    ------
    fao56, eq. 17
    """
    _day(low_c, high_c)
    _humidity("highest_percent", highest_percent)
    _humidity("lowest_percent", lowest_percent)
    if lowest_percent > highest_percent:
        raise OutOfRange("lowest_percent", lowest_percent, "at most highest_percent")
    at_dawn = saturation_vapour_pressure(low_c) * highest_percent / 100
    at_noon = saturation_vapour_pressure(high_c) * lowest_percent / 100
    return (at_dawn + at_noon) / 2


def vapour_pressure_from_highest_humidity(low_c: float, highest_percent: float) -> float:
    """Actual vapour pressure where only the humidity at dawn can be trusted.

    Parameters
    ----------
    low_c : float, scalar
        [deg C] -60 to 60.
    highest_percent : float, scalar
        [%] 0 to 100.

    Returns
    -------
    float, scalar
        [kPa]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 18
    """
    _humidity("highest_percent", highest_percent)
    return saturation_vapour_pressure(low_c) * highest_percent / 100


def vapour_pressure_from_mean_humidity(low_c: float, high_c: float, mean_percent: float) -> float:
    """Actual vapour pressure from the day's mean relative humidity.

    Parameters
    ----------
    low_c : float, scalar
        [deg C] -60 to 60.
    high_c : float, scalar
        [deg C] low_c to 60.
    mean_percent : float, scalar
        [%] 0 to 100.

    Returns
    -------
    float, scalar
        [kPa]

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    fao56, eq. 19
    """
    _humidity("mean_percent", mean_percent)
    return mean_saturation_vapour_pressure(low_c, high_c) * mean_percent / 100


def _temperature(name: str, value: float) -> None:
    if not -60 <= value <= 60:
        raise OutOfRange(name, value, "between -60 and 60")


def _day(low_c: float, high_c: float) -> None:
    _temperature("low_c", low_c)
    if not low_c <= high_c <= 60:
        raise OutOfRange("high_c", high_c, "between low_c and 60")


def _humidity(name: str, value: float) -> None:
    if not 0 <= value <= 100:
        raise OutOfRange(name, value, "between 0 and 100")
