"""What a wanted rate or a measured amount of fertilizer comes to, line by line: for the terminal
and the phone's calculator. A measure by volume is told for each source that weighed the product.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shedbook.agronomy.customary import (
    bulk_density,
    cups_of_volume,
    lb_per_1000_ft2,
    lb_per_acre,
    rate_from_lb_per_1000_ft2,
    rate_from_lb_per_acre,
    tablespoons_of_volume,
    volume_of_cups,
    volume_of_tablespoons,
)
from shedbook.agronomy.fertilizer import (
    layer_volume,
    mass_for_rate,
    mass_of_volume,
    nutrient_mass,
    product_mass,
    rate_of_mass,
    volume_of_mass,
)

# What the amount may be: a rate of nitrogen, product for the whole area, or product for each plant.
UNITS = (
    *("kg_per_ha", "lb_per_acre", "lb_per_1000_ft2"),
    *("grams_in_all", "cups_in_all", "grams_a_plant", "tablespoons_a_plant"),
)
CUBIC_YARD_L = 764.554857984

Line = tuple[str, dict[str, Any]]


@dataclass(frozen=True)
class Asked:
    """One question to the calculator; areas in m², None where they are not known."""

    n_percent: float
    p_percent: float
    k_percent: float
    unit: str
    amount: float
    ground_m2: float | None
    area_m2: float | None
    # Each published weight of the material: pounds in so many cups, and who says so.
    published: Sequence[Mapping[str, Any]]


def reckon_feed(asked: Asked) -> list[Line]:
    """The answer in lines, or the one line that says what is still needed."""
    rates = _rates(asked)
    if isinstance(rates, str):
        return [(rates, {})]
    low, high = min(rates), max(rates)
    lines = [_line("rate", low, high, _rate_values)]
    for name, percent in (("p2o5", asked.p_percent), ("k2o", asked.k_percent)):
        if percent > 0:
            share = percent / asked.n_percent
            lines.append(_line(name, low * share, high * share, _rate_values))
    if asked.ground_m2 is not None:
        lines.append(_product(asked, "plant", asked.ground_m2, low, high))
    if asked.area_m2 is not None:
        lines.append(_product(asked, "area", asked.area_m2, low, high))
    return lines + _measures(asked, low)


def reckon_compost(area_m2: float, depth_mm: float) -> list[Line]:
    """Litres of a layer, and what it is in the measure of bulk goods."""
    litres = layer_volume(area_m2, depth_mm)
    values = {"area_m2": area_m2, "depth_mm": depth_mm, "volume_l": litres}
    return [("compost", {**values, "cubic_yards": litres / CUBIC_YARD_L})]


def _rates(asked: Asked) -> list[float] | str:
    """Nitrogen in kg/ha, by each weight of the product where it was measured by volume."""
    if asked.n_percent <= 0:
        return "no_grade"
    if asked.unit == "kg_per_ha":
        return [asked.amount]
    if asked.unit == "lb_per_acre":
        return [rate_from_lb_per_acre(asked.amount)]
    if asked.unit == "lb_per_1000_ft2":
        return [rate_from_lb_per_1000_ft2(asked.amount)]
    is_each = asked.unit in ("grams_a_plant", "tablespoons_a_plant")
    area = asked.ground_m2 if is_each else asked.area_m2
    if area is None:
        return "no_ground" if is_each else "no_area"
    masses = _masses(asked)
    if not masses:
        return "no_weight"
    return [rate_of_mass(nutrient_mass(mass, asked.n_percent), area) for mass in masses]


def _masses(asked: Asked) -> list[float]:
    """Grams of product, by each weight."""
    if asked.unit in ("grams_in_all", "grams_a_plant"):
        return [asked.amount]
    is_cups = asked.unit == "cups_in_all"
    volume = volume_of_cups(asked.amount) if is_cups else volume_of_tablespoons(asked.amount)
    return [mass_of_volume(volume, _density(one)) for one in asked.published]


def _density(one: Mapping[str, Any]) -> float:
    return bulk_density(one["pounds"], one["cups"])


def _line(key: str, low: float, high: float, values: Any) -> Line:
    if low == high:
        return key, values(low, "")
    return f"{key}_between", values(low, "low_") | values(high, "high_")


def _rate_values(rate: float, prefix: str) -> dict[str, float]:
    return {
        f"{prefix}kg_per_ha": rate,
        f"{prefix}lb_per_acre": lb_per_acre(rate),
        f"{prefix}lb_per_1000_ft2": lb_per_1000_ft2(rate),
    }


def _product(asked: Asked, key: str, area: float, low: float, high: float) -> Line:
    """Grams of product and of nitrogen on so much ground."""

    def values(rate: float, prefix: str) -> dict[str, float]:
        nitrogen = mass_for_rate(rate, area)
        product = product_mass(nitrogen, asked.n_percent)
        return {f"{prefix}product_grams": product, f"{prefix}nitrogen_grams": nitrogen}

    name, told = _line(key, low, high, values)
    return name, told | {"area_m2": area}


def _measures(asked: Asked, rate: float) -> list[Line]:
    """Spoons for a plant and cups for the area; not where the question was asked in those."""
    if asked.unit in ("cups_in_all", "tablespoons_a_plant"):
        return []
    lines: list[Line] = []
    for one in asked.published:
        for key, area in (("spoons", asked.ground_m2), ("cups", asked.area_m2)):
            if area is None:
                continue
            product = product_mass(mass_for_rate(rate, area), asked.n_percent)
            volume = volume_of_mass(product, _density(one))
            told = tablespoons_of_volume(volume) if key == "spoons" else cups_of_volume(volume)
            lines.append((key, {"source": one["source"], key: told}))
    return lines
