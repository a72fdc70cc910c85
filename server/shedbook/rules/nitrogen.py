"""How much nitrogen reached the plants of one planting, from what was given and where.

The grade must be written down: no nitrogen is guessed from a product's name. What was measured by
volume weighs what was published for its material; where two sources differ both are kept.
"""

from dataclasses import dataclass
from typing import Any

from shedbook.agronomy.customary import bulk_density
from shedbook.agronomy.errors import OutOfRange
from shedbook.agronomy.fertilizer import (
    area_per_plant,
    mass_of_volume,
    nutrient_mass,
    rate_of_mass,
)
from shedbook.rules.match import (
    UNCOUNTED,
    Context,
    Event,
    Json,
    Planting,
    concerns,
    covers,
    is_partial,
    live_plants,
    number,
    own,
    plant_groups,
    text,
)

PER_HECTARE_TO_GRAMS_PER_M2 = 0.1
# A kilogram of nitrogen on a square metre: nobody means that.
MOST_KG_PER_HA = 10_000


@dataclass(frozen=True)
class Given:
    """What one entry brought, in kg/ha and g a plant; `why` says what keeps it from counting."""

    event: Event
    low: float
    high: float
    low_g: float | None
    high_g: float | None
    why: str


@dataclass(frozen=True)
class Account:
    """What some plants of a planting got: all that counts, and what could not be counted."""

    plants: list[int]
    given: list[Given]
    uncounted: list[Given]
    low: float
    high: float
    low_g: float | None
    high_g: float | None


def feeds_of(context: Context, planting: Planting, first: int) -> list[Event]:
    """What was given to it, or to its bed, since the first day."""
    bed = planting.get("bed")
    return [
        event
        for event in context.by_kind.get("feed", [])
        if event["day"] >= first
        and concerns(event, planting)
        # What its seedlings got in another place is not in this soil.
        and event.get("bed", bed) == bed
    ]


def account_of(context: Context, planting: Planting, feeds: list[Event]) -> Account:
    """The plants that got most; the others got no more."""
    live = live_plants(planting, context.today)
    found: Account | None = None
    for plants in plant_groups(live, feeds):
        told = _summed(plants, [one for one in feeds if _reaches(context, one, plants[0])], context)
        if found is None or told.high > found.high:
            found = told
    return _summed([], [], context) if found is None else found


def _reaches(context: Context, event: Event, plant: int) -> bool:
    """Plants whose number was never logged may each be one of those that an entry names."""
    return plant == UNCOUNTED or covers(context, event, plant)


def _summed(plants: list[int], feeds: list[Event], context: Context) -> Account:
    told = [given_by(context, event) for event in feeds]
    given = [one for one in told if one.why == ""]
    low = high = low_g = high_g = 0.0
    is_known = True
    for one in given:
        low = low + one.low
        high = high + one.high
        if one.low_g is None or one.high_g is None:
            is_known = False
            continue
        low_g = low_g + one.low_g
        high_g = high_g + one.high_g
    uncounted = [one for one in told if one.why != ""]
    grams = (low_g, high_g) if is_known else (None, None)
    return Account(plants, given, uncounted, low, high, *grams)


def given_by(context: Context, event: Event) -> Given:
    """What the entry brought, or why that can't be said."""
    try:
        return _given_by(context, event)
    except OutOfRange:
        return Given(event, 0, 0, None, None, "no_sense")


def _given_by(context: Context, event: Event) -> Given:
    details = event["details"]
    percent = number(details.get("n_percent"))
    if percent is None:
        return Given(event, 0, 0, None, None, "no_grade")
    if percent == 0:
        return Given(event, 0, 0, 0, 0, "")
    masses = masses_of(context, details)
    if masses is None:
        return Given(event, 0, 0, None, None, "no_amount")
    low, high = nutrient_mass(masses[0], percent), nutrient_mass(masses[1], percent)
    ground = ground_of_plant(context)
    area = _area_of(context, event, ground)
    if area is None:
        return Given(event, 0, 0, None, None, "no_area")
    rates = rate_of_mass(low, area), rate_of_mass(high, area)
    if rates[1] > MOST_KG_PER_HA:
        return Given(event, 0, 0, None, None, "no_sense")
    if ground is None:
        return Given(event, *rates, None, None, "")
    share = PER_HECTARE_TO_GRAMS_PER_M2 * ground
    return Given(event, *rates, rates[0] * share, rates[1] * share, "")


def masses_of(context: Context, details: Json) -> tuple[float, float] | None:
    """The lowest and highest mass of what was given, in grams."""
    grams = number(details.get("amount_g"))
    if grams is not None:
        return grams, grams
    volume = number(details.get("amount_ml"))
    densities = densities_of(context, details.get("material"))
    if volume is None or not densities:
        return None
    masses = [mass_of_volume(volume, density) for density in densities]
    return min(masses), max(masses)


def densities_of(context: Context, material: Any) -> list[float]:
    """What a millilitre of the material weighs, by each source."""
    name = text(material)
    if name is None:
        return []
    told = own(own(context.rulebook.get("fertilizers"), name), "published") or []
    return [bulk_density(one["pounds"], one["cups"]) for one in told]


def ground_of_plant(context: Context) -> float | None:
    """Ground that belongs to one plant: by its distances, else an equal share of its own bed."""
    planting = context.view["planting"]
    in_row, between = number(planting.get("in_row_m")), number(planting.get("between_rows_m"))
    if in_row is not None and between is not None and in_row > 0 and between > 0:
        return area_per_plant(in_row, between)
    bed, count = bed_area(context), number(planting.get("plants"))
    is_alone = len(context.view["residents"]) <= 1
    return bed / count if bed is not None and is_alone and count is not None and count > 0 else None


def bed_area(context: Context) -> float | None:
    """Length times width of the bed, in m²."""
    bed = context.view["bed"] or {}
    length, width = number(bed.get("length_m")), number(bed.get("width_m"))
    if length is None or width is None or length <= 0 or width <= 0:
        return None
    return length * width


def _area_of(context: Context, event: Event, ground: float | None) -> float | None:
    """Ground that the entry's amount was spread over."""
    told = number(event["details"].get("area_m2"))
    if told is not None and told > 0:
        return told
    if "planting" not in event:
        return bed_area(context)
    plants = len(event["plants"]) if is_partial(event) else _count(context)
    return ground * plants if ground is not None and plants is not None and plants > 0 else None


def _count(context: Context) -> float | None:
    return number(context.view["planting"].get("plants"))
