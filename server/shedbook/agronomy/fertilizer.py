"""What fertilizer and compost carry, weigh and fill, and the rate of what was spread.

Twin: client/agronomy/fertilizer.js.
"""

from shedbook.agronomy.errors import OutOfRange

M2_PER_HECTARE = 10_000
LARGEST = 1_000_000_000


def nutrient_mass(product_g: float, percent: float) -> float:
    """Mass of a nutrient in a product, from its grade; phosphorus and potassium as oxides.

    Parameters
    ----------
    product_g : float, scalar
        What was given, as it comes from the bag. [g] 0 to a billion.
    percent : float, scalar
        The nutrient's number on the bag. [%] 0 to 100.

    Returns
    -------
    float, scalar
        [g]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    nmsu-h119, meaning of the three numbers
    """
    _check_size("product_g", product_g)
    _check_percent("percent", percent)
    return product_g * percent / 100


def product_mass(nutrient_g: float, percent: float) -> float:
    """Mass of a product that carries a wanted mass of a nutrient.

    Parameters
    ----------
    nutrient_g : float, scalar
        [g] 0 to a billion.
    percent : float, scalar
        The nutrient's number on the bag. [%] Above 0, to 100.

    Returns
    -------
    float, scalar
        [g]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    nmsu-h119, meaning of the three numbers
    """
    _check_size("nutrient_g", nutrient_g)
    _check_share("percent", percent)
    return nutrient_g * 100 / percent


def mass_of_volume(volume_ml: float, density_g_per_ml: float) -> float:
    """Mass of a poured product.

    Parameters
    ----------
    volume_ml : float, scalar
        [mL] 0 to a billion.
    density_g_per_ml : float, scalar
        Bulk density. [g mL-1] Above 0, to a billion.

    Returns
    -------
    float, scalar
        [g]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    lsu-small-area
    """
    _check_size("volume_ml", volume_ml)
    _check_above("density_g_per_ml", density_g_per_ml)
    return volume_ml * density_g_per_ml


def volume_of_mass(mass_g: float, density_g_per_ml: float) -> float:
    """Volume that a product fills when it is poured.

    Parameters
    ----------
    mass_g : float, scalar
        [g] 0 to a billion.
    density_g_per_ml : float, scalar
        Bulk density. [g mL-1] Above 0, to a billion.

    Returns
    -------
    float, scalar
        [mL]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    lsu-small-area
    """
    _check_size("mass_g", mass_g)
    _check_above("density_g_per_ml", density_g_per_ml)
    return mass_g / density_g_per_ml


def rate_of_mass(mass_g: float, area_m2: float) -> float:
    """Rate per area of what was spread.

    Parameters
    ----------
    mass_g : float, scalar
        [g] 0 to a billion.
    area_m2 : float, scalar
        Area that it was spread over. [m2] Above 0, to a billion.

    Returns
    -------
    float, scalar
        [kg ha-1]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("mass_g", mass_g)
    _check_above("area_m2", area_m2)
    return mass_g / 1000 / (area_m2 / M2_PER_HECTARE)


def mass_for_rate(kg_per_ha: float, area_m2: float) -> float:
    """Mass that an area needs for a rate.

    Parameters
    ----------
    kg_per_ha : float, scalar
        [kg ha-1] 0 to a billion.
    area_m2 : float, scalar
        [m2] 0 to a billion.

    Returns
    -------
    float, scalar
        [g]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    nist-hb44-c
    """
    _check_size("kg_per_ha", kg_per_ha)
    _check_size("area_m2", area_m2)
    return kg_per_ha * 1000 * (area_m2 / M2_PER_HECTARE)


def area_per_plant(in_row_m: float, between_rows_m: float) -> float:
    """Ground that belongs to one plant of a stand in rows.

    Parameters
    ----------
    in_row_m : float, scalar
        From plant to plant in the row. [m] Above 0, to a billion.
    between_rows_m : float, scalar
        From row to row. [m] Above 0, to a billion.

    Returns
    -------
    float, scalar
        [m2]

    Raises
    ------
    OutOfRange
        An argument outside its span.

    Source
    ------
    common practice, no source
    """
    _check_above("in_row_m", in_row_m)
    _check_above("between_rows_m", between_rows_m)
    return in_row_m * between_rows_m


def layer_volume(area_m2: float, depth_mm: float) -> float:
    """Volume of a layer, such as compost: 1 mm on 1 m2 is 1 L.

    Parameters
    ----------
    area_m2 : float, scalar
        [m2] 0 to a billion.
    depth_mm : float, scalar
        [mm] 0 to a billion.

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
    cornell-compost
    """
    _check_size("area_m2", area_m2)
    _check_size("depth_mm", depth_mm)
    return area_m2 * depth_mm


def layer_depth(volume_l: float, area_m2: float) -> float:
    """Depth of a layer of a known volume.

    Parameters
    ----------
    volume_l : float, scalar
        [L] 0 to a billion.
    area_m2 : float, scalar
        [m2] Above 0, to a billion.

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
    cornell-compost
    """
    _check_size("volume_l", volume_l)
    _check_above("area_m2", area_m2)
    return volume_l / area_m2


def _check_size(name: str, value: float) -> None:
    if not 0 <= value <= LARGEST:
        raise OutOfRange(name, value, "between 0 and a billion")


def _check_above(name: str, value: float) -> None:
    if not 0 < value <= LARGEST:
        raise OutOfRange(name, value, "above 0 and at most a billion")


def _check_percent(name: str, value: float) -> None:
    if not 0 <= value <= 100:
        raise OutOfRange(name, value, "between 0 and 100")


def _check_share(name: str, value: float) -> None:
    if not 0 < value <= 100:
        raise OutOfRange(name, value, "above 0 and at most 100")
