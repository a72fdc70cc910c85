"""Days from sowing until seedlings are up, by a table of soil temperatures.

In such a table a 0 says that no seedling came up at that temperature, and a -1 that the
temperature was not tried. Twin: client/agronomy/emergence.js.
"""

from collections.abc import Sequence

from shedbook.agronomy.errors import OutOfRange

NONE_CAME_UP = 0
NOT_TRIED = -1


def days_to_emergence(temps_c: Sequence[float], days: Sequence[float], soil_c: float) -> float:
    """Days until seedlings are up at a steady soil temperature, on a straight line between rows.

    Parameters
    ----------
    temps_c : sequence of float
        Soil temperatures of the table, rising. [deg C]
    days : sequence of float
        Days at each; 0 where none came up, -1 where it was not tried. [day]
    soil_c : float, scalar
        Soil temperature at the depth of the seed. [deg C] Within the tried part of the table.

    Returns
    -------
    float, scalar
        [day] Above 0.

    Raises
    ------
    OutOfRange
        Outside the table, or beside a temperature at which none came up or none was tried.

    Source
    ------
    harrington-minges-1954
    """
    return _between_rows(temps_c, days, soil_c, NONE_CAME_UP)


def daily_share(temps_c: Sequence[float], days: Sequence[float], soil_c: float) -> float:
    """How much of the way to emergence one day at this soil temperature goes.

    Parameters
    ----------
    temps_c : sequence of float
        Soil temperatures of the table, rising. [deg C]
    days : sequence of float
        Days at each; 0 where none came up, -1 where it was not tried. [day]
    soil_c : float, scalar
        Mean soil temperature of the day. [deg C] Within the tried part of the table.

    Returns
    -------
    float, scalar
        [day-1] Above 0.

    Raises
    ------
    OutOfRange
        Outside the table, or beside a temperature at which none came up or none was tried.

    Source
    ------
    harrington-minges-1954
    """
    return 1 / days_to_emergence(temps_c, days, soil_c)


def normal_share(temps_c: Sequence[float], shares: Sequence[float], soil_c: float) -> float:
    """Share of sound seed that grows into a normal seedling, on a straight line between rows.

    Parameters
    ----------
    temps_c : sequence of float
        Soil temperatures of the table, rising. [deg C]
    shares : sequence of float
        Share at each; -1 where it was not tried. [-] 0 to 1
    soil_c : float, scalar
        Soil temperature at the depth of the seed. [deg C] Within the tried part of the table.

    Returns
    -------
    float, scalar
        [-] 0 to 1.

    Raises
    ------
    OutOfRange
        Outside the table, or beside a temperature that was not tried.

    Source
    ------
    harrington-minges-1954
    """
    return _between_rows(temps_c, shares, soil_c, NOT_TRIED)


def _between_rows(
    temps_c: Sequence[float], values: Sequence[float], soil_c: float, no_value: float
) -> float:
    """The row's value, or the one on the line between two rows; values up to no_value are none."""
    for i, temp_c in enumerate(temps_c):
        if soil_c == temp_c and values[i] > no_value:
            return values[i]
        both = i > 0 and values[i - 1] > no_value and values[i] > no_value
        if both and temps_c[i - 1] < soil_c < temp_c:
            share = (soil_c - temps_c[i - 1]) / (temp_c - temps_c[i - 1])
            return values[i - 1] + share * (values[i] - values[i - 1])
    raise OutOfRange("soil_c", soil_c, "in the part of the table that has numbers")
