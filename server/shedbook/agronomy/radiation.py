"""Sunshine and radiation at the ground over one day."""

import math

from shedbook.agronomy.errors import OutOfRange
from shedbook.agronomy.hargreaves import sunset_hour_angle

ALBEDO_OF_GRASS = 0.23
STEFAN_BOLTZMANN_MJ = 4.903e-9
KELVIN = 273.16


def daylight_hours(latitude_deg: float, day_of_year: int) -> float:
    """Hours between sunrise and sunset.

    Parameters
    ----------
    latitude_deg : float, scalar
        North positive. [deg] -65 to 65, where the sun rises and sets every day.
    day_of_year : int, scalar
        1 on 1 January. [day] 1 to 366.

    Returns
    -------
    float, scalar
        [h]

    Raises
    ------
    OutOfRange
        Either argument outside its span.

    Source
    ------
    fao56, eq. 34
    """
    return 24 / math.pi * sunset_hour_angle(latitude_deg, day_of_year)


def solar_radiation_from_sunshine(sunshine_h: float, daylight_h: float, ra_mj: float) -> float:
    """Radiation at the ground from the hours of bright sunshine.

    Parameters
    ----------
    sunshine_h : float, scalar
        Measured hours of bright sunshine; more than there is daylight counts as all of it. [h] 0
        to 24.
    daylight_h : float, scalar
        Hours between sunrise and sunset. [h] Above 0, to 24.
    ra_mj : float, scalar
        Radiation above the atmosphere. [MJ m-2 day-1] 0 to 60.

    Returns
    -------
    float, scalar
        [MJ m-2 day-1]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 35
    """
    _within("sunshine_h", sunshine_h, 0, 24)
    _within("ra_mj", ra_mj, 0, 60)
    if not 0 < daylight_h <= 24:
        raise OutOfRange("daylight_h", daylight_h, "above 0 and at most 24")
    return (0.25 + 0.50 * min(1.0, sunshine_h / daylight_h)) * ra_mj


def solar_radiation_from_temperatures(
    low_c: float, high_c: float, ra_mj: float, adjustment: float = 0.16
) -> float:
    """Radiation at the ground from how far the air warmed, at most that of a cloudless day.

    Parameters
    ----------
    low_c : float, scalar
        [deg C] -60 to 60.
    high_c : float, scalar
        [deg C] low_c to 60.
    ra_mj : float, scalar
        Radiation above the atmosphere. [MJ m-2 day-1] 0 to 60.
    adjustment : float, scalar
        0.16 inland, 0.19 by the sea. [(deg C)-0.5] 0.1 to 0.25.

    Returns
    -------
    float, scalar
        [MJ m-2 day-1]

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    fao56, eq. 50
    """
    _within("low_c", low_c, -60, 60)
    if not low_c <= high_c <= 60:
        raise OutOfRange("high_c", high_c, "between low_c and 60")
    _within("ra_mj", ra_mj, 0, 60)
    _within("adjustment", adjustment, 0.1, 0.25)
    return min(0.75, adjustment * math.sqrt(high_c - low_c)) * ra_mj


def clear_sky_radiation(elevation_m: float, ra_mj: float) -> float:
    """Radiation at the ground on a cloudless day.

    Parameters
    ----------
    elevation_m : float, scalar
        Above the sea. [m] -450 to 6000.
    ra_mj : float, scalar
        Radiation above the atmosphere. [MJ m-2 day-1] 0 to 60.

    Returns
    -------
    float, scalar
        [MJ m-2 day-1]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 37
    """
    _within("elevation_m", elevation_m, -450, 6000)
    _within("ra_mj", ra_mj, 0, 60)
    return (0.75 + 2e-5 * elevation_m) * ra_mj


def net_shortwave(rs_mj: float) -> float:
    """Sunlight that a reference grass keeps.

    Parameters
    ----------
    rs_mj : float, scalar
        Radiation at the ground. [MJ m-2 day-1] 0 to 60.

    Returns
    -------
    float, scalar
        [MJ m-2 day-1]

    Raises
    ------
    OutOfRange
        The radiation is outside its span.

    Source
    ------
    fao56, eq. 38
    """
    _within("rs_mj", rs_mj, 0, 60)
    return (1 - ALBEDO_OF_GRASS) * rs_mj


def net_longwave(
    low_c: float, high_c: float, vapour_kpa: float, rs_mj: float, rso_mj: float
) -> float:
    """Heat that the ground loses to the sky.

    Parameters
    ----------
    low_c : float, scalar
        [deg C] -60 to 60.
    high_c : float, scalar
        [deg C] low_c to 60.
    vapour_kpa : float, scalar
        Actual vapour pressure. [kPa] 0 to 20.
    rs_mj : float, scalar
        Radiation at the ground; more than a cloudless day's counts as that. [MJ m-2 day-1]
        0 to 60.
    rso_mj : float, scalar
        Radiation of a cloudless day. [MJ m-2 day-1] Above 0, to 60.

    Returns
    -------
    float, scalar
        [MJ m-2 day-1]

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    fao56, eq. 39; asce-ewri-2005, eq. 18 for the limits of cloudiness
    """
    _within("low_c", low_c, -60, 60)
    if not low_c <= high_c <= 60:
        raise OutOfRange("high_c", high_c, "between low_c and 60")
    _within("vapour_kpa", vapour_kpa, 0, 20)
    _within("rs_mj", rs_mj, 0, 60)
    if not 0 < rso_mj <= 60:
        raise OutOfRange("rso_mj", rso_mj, "above 0 and at most 60")
    warmth = ((low_c + KELVIN) ** 4 + (high_c + KELVIN) ** 4) / 2
    # Below three tenths the formula would turn the loss into a gain; later standards stop there.
    sunny = max(0.3, min(1.0, rs_mj / rso_mj))
    vapour = 0.34 - 0.14 * math.sqrt(vapour_kpa)
    return STEFAN_BOLTZMANN_MJ * warmth * vapour * (1.35 * sunny - 0.35)


def _within(name: str, value: float, least: float, most: float) -> None:
    if not least <= value <= most:
        raise OutOfRange(name, value, f"between {least} and {most}")
