"""Rates and kitchen measures of the United States, converted exactly.

Twin: client/agronomy/customary.js.
"""

from shedbook.agronomy.errors import OutOfRange

# All exact: the pound and the foot by their definitions of 1959, a gallon is 231 cubic inches.
GRAMS_PER_POUND = 453.59237
M2_PER_FT2 = 0.09290304
M2_PER_ACRE = 4046.8564224
M2_PER_HECTARE = 10_000
ML_PER_CUP = 236.5882365
ML_PER_TABLESPOON = 14.78676478125
LARGEST = 1_000_000_000


def bulk_density(pounds: float, cups: float) -> float:
    """Bulk density from a published weight of so many cups.

    Parameters
    ----------
    pounds : float, scalar
        [lb] Above 0, to a billion.
    cups : float, scalar
        US cups. [cup] Above 0, to a billion.

    Returns
    -------
    float, scalar
        [g mL-1]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_above("pounds", pounds)
    _check_above("cups", cups)
    return pounds * GRAMS_PER_POUND / (cups * ML_PER_CUP)


def rate_from_lb_per_acre(lb_per_acre: float) -> float:
    """Pounds per acre as a rate in SI.

    Parameters
    ----------
    lb_per_acre : float, scalar
        [lb acre-1] 0 to a billion.

    Returns
    -------
    float, scalar
        [kg ha-1]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("lb_per_acre", lb_per_acre)
    return lb_per_acre * GRAMS_PER_POUND / 1000 / (M2_PER_ACRE / M2_PER_HECTARE)


def lb_per_acre(kg_per_ha: float) -> float:
    """A rate in pounds per acre.

    Parameters
    ----------
    kg_per_ha : float, scalar
        [kg ha-1] 0 to a billion.

    Returns
    -------
    float, scalar
        [lb acre-1]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("kg_per_ha", kg_per_ha)
    return kg_per_ha * (M2_PER_ACRE / M2_PER_HECTARE) * 1000 / GRAMS_PER_POUND


def rate_from_lb_per_1000_ft2(lb_per_1000_ft2: float) -> float:
    """Pounds per 1,000 square feet as a rate in SI.

    Parameters
    ----------
    lb_per_1000_ft2 : float, scalar
        [lb per 1000 ft2] 0 to a billion.

    Returns
    -------
    float, scalar
        [kg ha-1]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("lb_per_1000_ft2", lb_per_1000_ft2)
    return lb_per_1000_ft2 * GRAMS_PER_POUND / 1000 / (1000 * M2_PER_FT2 / M2_PER_HECTARE)


def lb_per_1000_ft2(kg_per_ha: float) -> float:
    """A rate in pounds per 1,000 square feet.

    Parameters
    ----------
    kg_per_ha : float, scalar
        [kg ha-1] 0 to a billion.

    Returns
    -------
    float, scalar
        [lb per 1000 ft2]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("kg_per_ha", kg_per_ha)
    return kg_per_ha * (1000 * M2_PER_FT2 / M2_PER_HECTARE) * 1000 / GRAMS_PER_POUND


def plants_per_acre(area_per_plant_m2: float) -> float:
    """Plants on an acre.

    Parameters
    ----------
    area_per_plant_m2 : float, scalar
        [m2] Above 0, to a billion.

    Returns
    -------
    float, scalar
        [acre-1]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_above("area_per_plant_m2", area_per_plant_m2)
    return M2_PER_ACRE / area_per_plant_m2


def cups_of_volume(volume_ml: float) -> float:
    """A volume in US cups.

    Parameters
    ----------
    volume_ml : float, scalar
        [mL] 0 to a billion.

    Returns
    -------
    float, scalar
        [cup]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("volume_ml", volume_ml)
    return volume_ml / ML_PER_CUP


def volume_of_cups(cups: float) -> float:
    """US cups as a volume.

    Parameters
    ----------
    cups : float, scalar
        [cup] 0 to a billion.

    Returns
    -------
    float, scalar
        [mL]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("cups", cups)
    return cups * ML_PER_CUP


def tablespoons_of_volume(volume_ml: float) -> float:
    """A volume in US tablespoons.

    Parameters
    ----------
    volume_ml : float, scalar
        [mL] 0 to a billion.

    Returns
    -------
    float, scalar
        [tbsp]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("volume_ml", volume_ml)
    return volume_ml / ML_PER_TABLESPOON


def volume_of_tablespoons(tablespoons: float) -> float:
    """US tablespoons as a volume.

    Parameters
    ----------
    tablespoons : float, scalar
        [tbsp] 0 to a billion.

    Returns
    -------
    float, scalar
        [mL]

    Raises
    ------
    OutOfRange
        The argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("tablespoons", tablespoons)
    return tablespoons * ML_PER_TABLESPOON


def _check_size(name: str, value: float) -> None:
    if not 0 <= value <= LARGEST:
        raise OutOfRange(name, value, "between 0 and a billion")


def _check_above(name: str, value: float) -> None:
    if not 0 < value <= LARGEST:
        raise OutOfRange(name, value, "above 0 and at most a billion")
