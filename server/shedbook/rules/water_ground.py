"""What a bed's water account stands on: its area, its soil, and how much water each event gave.

Depths are millimetres over the whole bed. Where drip or a soaker hose wets only a part of it, only
the soil of that part holds water for the roots; what rain leaves beside it is not counted.
"""

from typing import Any, NamedTuple

from shedbook.agronomy.elementary import PI
from shedbook.agronomy.soil_water import container_available_water
from shedbook.agronomy.watering import depth_of_volume, volume_given
from shedbook.rules.match import Context, Event, Json, Rule, limit, number, own, text

# Dry, middle and wet: the least, the middle and the most that something may be.
Three = tuple[float, float, float]

FARTHEST_LATITUDE_DEG = 65
PARTLY_WETTING = ("drip", "soaker")
LEAST_HELD, MOST_HELD = 0.001, 1.0


class Ground(NamedTuple):
    """A bed as its account sees it.

    `held` is water between full and wilting: a share of the soil, or mm in all of a container.
    """

    area_m2: float
    wetted_share: float
    crown_factor: float
    held: Three
    is_container: bool
    latitude_deg: float
    flow_l_per_min: float | None
    says_wetted: bool


def ground_of(context: Context, rule: Rule) -> tuple[Ground | None, list[str]]:
    """The ground, or None with the names of all that must be given first."""
    bed = context.view["bed"] or {}
    is_container = bed.get("type") == "container"
    latitude = number(context.view["settings"].get("latitude_deg"))
    area = _area(bed, is_container=is_container)
    shares = _container_shares(context, rule, bed) if is_container else _soil_shares(context, bed)
    volume = _positive(bed.get("volume_l"))
    needs = []
    if latitude is None or abs(latitude) > FARTHEST_LATITUDE_DEG:
        needs.append("latitude")
    if area is None:
        needs.append("across" if is_container else "area")
    if shares is None:
        needs.append("soil")
    if is_container and volume is None:
        needs.append("volume")
    if needs or latitude is None or area is None or shares is None:
        return None, needs
    if is_container and volume is not None:
        low, middle, high = (container_available_water(volume, one) / area for one in shares)
        shares = (low, middle, high)
    factor = limit(context, rule, "crown_factor")
    crown = 1 if factor is None else min(max(factor, 0.1), 5)
    wetted = None if is_container else _wetted_share(bed)
    says_wetted = is_container or wetted is not None or not _wets_partly(bed)
    flow = _positive(bed.get("flow_l_per_min"))
    share = 1 if wetted is None else wetted
    return Ground(area, share, crown, shares, is_container, latitude, flow, says_wetted), []


def depth_given(ground: Ground, event: Event) -> float | None:
    """Millimetres over the bed that a watering gave; None when that was not measured."""
    details = event["details"]
    volume = _positive(details.get("volume_l"))
    depth = _positive(details.get("depth_mm"))
    minutes = _positive(details.get("duration_min"))
    flow = _positive(details.get("flow_l_per_min")) or ground.flow_l_per_min
    if volume is not None:
        return depth_of_volume(volume, ground.area_m2)
    if depth is not None:
        return depth * ground.wetted_share
    if minutes is not None and flow is not None:
        return depth_of_volume(volume_given(minutes, flow), ground.area_m2)
    return None


def _positive(value: Any) -> float | None:
    size = number(value)
    return size if size is not None and size > 0 else None


def _percent(value: Any) -> float | None:
    size = _positive(value)
    return size if size is not None and size <= 100 else None


def _area(bed: Json, *, is_container: bool) -> float | None:
    across = _positive(bed.get("across_m"))
    if is_container and across is not None:
        return PI / 4 * across * across
    length, width = _positive(bed.get("length_m")), _positive(bed.get("width_m"))
    return None if length is None or width is None else length * width


def _wets_partly(bed: Json) -> bool:
    return text(bed.get("water_method")) in PARTLY_WETTING


def _wetted_share(bed: Json) -> float | None:
    """What drip or a soaker hose wets of the bed; None where all is wetted or it was not said."""
    percent = _percent(bed.get("wetted_percent"))
    return percent / 100 if _wets_partly(bed) and percent is not None else None


def _own_share(bed: Json) -> float | None:
    """Share of the soil that is water which roots can take, where the grower measured it."""
    full, wilting = _percent(bed.get("field_capacity_percent")), bed.get("wilting_point_percent")
    dry = number(wilting)
    if full is None or dry is None or not 0 <= dry < full:
        return None
    return (full - dry) / 100


def _soil_shares(context: Context, bed: Json) -> Three | None:
    """The least, the middle and the most that such soil holds, by its texture."""
    measured = _own_share(bed)
    if measured is not None:
        return _three(measured, measured)
    texture = text(bed.get("soil_texture"))
    soil = None if texture is None else own(context.rulebook.get("soils"), texture)
    low, high = number(own(soil, "available_low")), number(own(soil, "available_high"))
    return None if low is None or high is None else _three(low, high)


def _container_shares(context: Context, rule: Rule, bed: Json) -> Three | None:
    """The same of a potting mix, as the row or the grower has it."""
    measured = _own_share(bed)
    if measured is not None:
        return _three(measured, measured)
    low = limit(context, rule, "mix_low_percent")
    high = limit(context, rule, "mix_high_percent")
    return None if low is None or high is None else _three(low / 100, high / 100)


def _three(one: float, other: float) -> Three:
    low = min(max(min(one, other), LEAST_HELD), MOST_HELD)
    high = min(max(one, other, LEAST_HELD), MOST_HELD)
    return low, (low + high) / 2, high
