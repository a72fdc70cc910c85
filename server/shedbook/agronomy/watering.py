"""Depths, litres and minutes of water: one millimetre on a square metre is one litre.

Twin: client/agronomy/watering.js.
"""

from shedbook.agronomy.errors import OutOfRange


def depth_of_volume(volume_l: float, area_m2: float) -> float:
    """How deep this much water stands on a patch of ground.

    Parameters
    ----------
    volume_l : float, scalar
        [L] 0 or more.
    area_m2 : float, scalar
        Ground that gets it. [m2] Above 0.

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
    bipm-si-9
    """
    _check(volume_l, "volume_l", area_m2, "area_m2")
    return volume_l / area_m2


def volume_of_depth(depth_mm: float, area_m2: float) -> float:
    """Water that stands this deep on a patch of ground.

    Parameters
    ----------
    depth_mm : float, scalar
        [mm] 0 or more.
    area_m2 : float, scalar
        Ground that gets it. [m2] Above 0.

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
    bipm-si-9
    """
    _check(depth_mm, "depth_mm", area_m2, "area_m2")
    return depth_mm * area_m2


def litres_to_refill(depletion_mm: float, area_m2: float, wetted_share: float) -> float:
    """Water that fills the root zone again where it is wetted, and drains nothing.

    Parameters
    ----------
    depletion_mm : float, scalar
        Of the ground that is wetted. [mm] 0 or more.
    area_m2 : float, scalar
        The whole bed. [m2] Above 0.
    wetted_share : float, scalar
        Share of the bed that the watering wets. [-] Above 0, up to 1.

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
    fao56, table 20
    """
    if not 0 < wetted_share <= 1:
        raise OutOfRange("wetted_share", wetted_share, "above 0 and at most 1")
    return volume_of_depth(depletion_mm, area_m2) * wetted_share


def minutes_to_give(volume_l: float, flow_l_per_min: float) -> float:
    """How long the water has to run.

    Parameters
    ----------
    volume_l : float, scalar
        [L] 0 or more.
    flow_l_per_min : float, scalar
        Measured flow. [L min-1] Above 0.

    Returns
    -------
    float, scalar
        [min]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    bipm-si-9
    """
    _check(volume_l, "volume_l", flow_l_per_min, "flow_l_per_min")
    return volume_l / flow_l_per_min


def volume_given(duration_min: float, flow_l_per_min: float) -> float:
    """Water that ran in this time.

    Parameters
    ----------
    duration_min : float, scalar
        [min] 0 or more.
    flow_l_per_min : float, scalar
        Measured flow. [L min-1] Above 0.

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
    bipm-si-9
    """
    _check(duration_min, "duration_min", flow_l_per_min, "flow_l_per_min")
    return duration_min * flow_l_per_min


def _check(amount: float, amount_name: str, per: float, per_name: str) -> None:
    if not amount >= 0:
        raise OutOfRange(amount_name, amount, "0 or more")
    if not per > 0:
        raise OutOfRange(per_name, per, "above 0")
