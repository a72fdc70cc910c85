"""The daily account of the water that roots can reach.

`depletion` is how much of the water that the soil holds at field capacity has gone. A depth in mm
on a square metre is a litre. Twin: client/agronomy/soil_water.js.
"""

from typing import NamedTuple

from shedbook.agronomy.errors import OutOfRange


class WaterDay(NamedTuple):
    """What one day did to the root zone: its end, and what the plants took and the ground lost."""

    depletion_mm: float
    ks: float
    etc_adjusted_mm: float
    drainage_mm: float


def total_available_water(
    field_capacity_share: float, wilting_point_share: float, root_depth_m: float
) -> float:
    """Water between field capacity and the wilting point in the depth of the roots.

    Parameters
    ----------
    field_capacity_share : float, scalar
        Volume of water in soil that has drained after a soaking. [m3 m-3] Up to 1.
    wilting_point_share : float, scalar
        Volume of water at which plants wilt for good. [m3 m-3] 0 to below field capacity.
    root_depth_m : float, scalar
        [m] Above 0, up to 5.

    Returns
    -------
    float, scalar
        [mm]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 82
    """
    if not 0 < field_capacity_share <= 1:
        raise OutOfRange("field_capacity_share", field_capacity_share, "above 0 and at most 1")
    if not 0 <= wilting_point_share < field_capacity_share:
        raise OutOfRange(
            "wilting_point_share", wilting_point_share, "0 or more and below field capacity"
        )
    if not 0 < root_depth_m <= 5:
        raise OutOfRange("root_depth_m", root_depth_m, "above 0 and at most 5")
    return 1000 * (field_capacity_share - wilting_point_share) * root_depth_m


def depletion_fraction(p_table: float, etc_mm: float) -> float:
    """Share of the available water that can go before growth slows, on a day of this thirst.

    Parameters
    ----------
    p_table : float, scalar
        The crop's share at 5 mm a day. [-] 0 to 1.
    etc_mm : float, scalar
        What the crop would take with water enough. [mm day-1] 0 to 50.

    Returns
    -------
    float, scalar
        [-] 0.1 to 0.8.

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, table 22, note 2
    """
    if not 0 <= p_table <= 1:
        raise OutOfRange("p_table", p_table, "between 0 and 1")
    if not 0 <= etc_mm <= 50:
        raise OutOfRange("etc_mm", etc_mm, "between 0 and 50")
    return max(0.1, min(0.8, p_table + 0.04 * (5 - etc_mm)))


def readily_available_water(taw_mm: float, p: float) -> float:
    """Water that roots take up without growth slowing.

    Parameters
    ----------
    taw_mm : float, scalar
        Total available water. [mm] Above 0.
    p : float, scalar
        Share that can go before growth slows. [-] 0 to below 1.

    Returns
    -------
    float, scalar
        [mm]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 83
    """
    if not taw_mm > 0:
        raise OutOfRange("taw_mm", taw_mm, "above 0")
    if not 0 <= p < 1:
        raise OutOfRange("p", p, "0 or more and below 1")
    return p * taw_mm


def stress_coefficient(depletion_mm: float, taw_mm: float, p: float) -> float:
    """Share of its full uptake that a crop reaches at this depletion.

    Parameters
    ----------
    depletion_mm : float, scalar
        [mm] 0 to taw_mm.
    taw_mm : float, scalar
        Total available water. [mm] Above 0.
    p : float, scalar
        Share that can go before growth slows. [-] 0 to below 1.

    Returns
    -------
    float, scalar
        [-] 0 to 1; 1 until the readily available water is gone.

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 84
    """
    readily_mm = readily_available_water(taw_mm, p)
    if not 0 <= depletion_mm <= taw_mm:
        raise OutOfRange("depletion_mm", depletion_mm, "between 0 and the total available water")
    if depletion_mm <= readily_mm:
        return 1.0
    return (taw_mm - depletion_mm) / (taw_mm - readily_mm)


def water_day(
    depletion_mm: float,
    taw_mm: float,
    p: float,
    rain_mm: float,
    irrigation_mm: float,
    etc_potential_mm: float,
) -> WaterDay:
    """The account of one day; its stress follows from the depletion that the day before left.

    Plants never take more than there is, so what came in, less what went out, is what changed.

    Parameters
    ----------
    depletion_mm : float, scalar
        At the end of the day before. [mm] 0 to taw_mm.
    taw_mm : float, scalar
        Total available water. [mm] Above 0.
    p : float, scalar
        Share that can go before growth slows, on this day. [-] 0 to below 1.
    rain_mm : float, scalar
        Rain that went into the ground (effective_rain, less what ran off). [mm] 0 or more.
    irrigation_mm : float, scalar
        Water given. [mm] 0 or more.
    etc_potential_mm : float, scalar
        What the crop would take with water enough. [mm] 0 or more.

    Returns
    -------
    WaterDay
        Depletion at the day's end [mm], stress coefficient [-], what the crop took [mm], and what
        drained below the roots [mm].

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eqs. 81 and 84 to 88, example 37
    """
    ks = stress_coefficient(depletion_mm, taw_mm, p)
    _at_least_zero("rain_mm", rain_mm)
    _at_least_zero("irrigation_mm", irrigation_mm)
    _at_least_zero("etc_potential_mm", etc_potential_mm)
    incoming_mm = rain_mm + irrigation_mm
    taken_mm = ks * etc_potential_mm
    end_mm = depletion_mm - incoming_mm + taken_mm
    if end_mm > taw_mm:
        return WaterDay(taw_mm, ks, taw_mm - depletion_mm + incoming_mm, 0.0)
    if end_mm < 0:
        return WaterDay(0.0, ks, taken_mm, -end_mm)
    return WaterDay(end_mm, ks, taken_mm, 0.0)


def effective_rain(rain_mm: float, et0_mm: float) -> float:
    """Rain that counts: less than a fifth of the day's reference loss dries off unused.

    Parameters
    ----------
    rain_mm : float, scalar
        [mm] 0 or more.
    et0_mm : float, scalar
        Reference evapotranspiration of the day. [mm] 0 or more.

    Returns
    -------
    float, scalar
        [mm]

    Raises
    ------
    OutOfRange
        An argument below 0.

    Source
    ------
    fao56, chapter 8, under eq. 85
    """
    _at_least_zero("rain_mm", rain_mm)
    _at_least_zero("et0_mm", et0_mm)
    return rain_mm if rain_mm >= 0.2 * et0_mm else 0.0


def container_available_water(volume_l: float, available_share: float) -> float:
    """Water that plants can take from a full container of potting mix.

    Parameters
    ----------
    volume_l : float, scalar
        Volume of the mix. [L] Above 0.
    available_share : float, scalar
        Share of that volume which is water that roots can take. [-] Above 0, up to 1.

    Returns
    -------
    float, scalar
        [L]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 82
    """
    if not volume_l > 0:
        raise OutOfRange("volume_l", volume_l, "above 0")
    if not 0 < available_share <= 1:
        raise OutOfRange("available_share", available_share, "above 0 and at most 1")
    return volume_l * available_share


def _at_least_zero(name: str, value: float) -> None:
    if not value >= 0:
        raise OutOfRange(name, value, "0 or more")
