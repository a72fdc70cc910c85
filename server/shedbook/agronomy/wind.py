"""Wind speed at the height that the reference equation asks for."""

import math

from shedbook.agronomy.errors import OutOfRange


def wind_at_two_metres(speed_m_s: float, height_m: float) -> float:
    """What a gauge at another height would have shown two metres above short grass.

    Parameters
    ----------
    speed_m_s : float, scalar
        Measured. [m s-1] 0 to 100.
    height_m : float, scalar
        Of the gauge above the ground. [m] 0.5 to 100.

    Returns
    -------
    float, scalar
        [m s-1]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    fao56, eq. 47
    """
    if not 0 <= speed_m_s <= 100:
        raise OutOfRange("speed_m_s", speed_m_s, "between 0 and 100")
    if not 0.5 <= height_m <= 100:
        raise OutOfRange("height_m", height_m, "between 0.5 and 100")
    return speed_m_s * 4.87 / math.log(67.8 * height_m - 5.42)
