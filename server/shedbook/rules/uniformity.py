"""How evenly a line or a sprinkler waters a bed, from the cans that were set out last."""

import math

from shedbook.agronomy.errors import AgronomyError
from shedbook.agronomy.uniformity import (
    christiansen,
    depth_per_hour,
    distribution_uniformity_low_quarter,
)
from shedbook.rules.finding import Finding, finding, key_prefix, reason
from shedbook.rules.match import Context, Event, Rule, days, limit, number, since

DAY_S = 86_400
# A share is compared and shown in thousandths, so that no last bit decides.
STEPS = 1000


def uniformity(context: Context, rule: Rule) -> list[Finding]:
    """The figures of the last reading, flagged where a limit is not reached."""
    last = _last_reading(context, rule)
    if last is None or key_prefix(context, rule) + last["id"] in context.declined:
        return []
    volumes = _volumes(last)
    try:
        low_quarter = _thousandths(distribution_uniformity_low_quarter(volumes))
        even = _thousandths(christiansen(volumes))
    except AgronomyError:
        why = [reason("uniformity.few", cans=len(volumes), read_day=last["day"])]
        return [finding(context, rule, last["id"], "unknown", {}, why, [last])]
    values = {"low_quarter_share": low_quarter, "even_share": even, "cans": len(volumes)}
    why = [reason("uniformity.read", read_day=last["day"], **values)]
    speed = _depth_per_hour(last, volumes)
    if speed is not None:
        why.append(reason("uniformity.speed", hourly_mm=speed))
    least = limit(context, rule, "least_low_quarter") or 0
    if low_quarter >= least:
        return [finding(context, rule, last["id"], "noted", values, why, [last])]
    why.append(reason("uniformity.below", low_quarter_share=low_quarter, limit_share=least))
    return [finding(context, rule, last["id"], "flagged", values, why, [last])]


def _last_reading(context: Context, rule: Rule) -> Event | None:
    events = context.by_kind.get("catch_cans", [])
    oldest = since(events, context.now - days(context, rule, "lasts_days") * DAY_S)
    return events[-1] if len(events) > oldest else None


def _volumes(event: Event) -> list[float]:
    given = event["details"].get("volumes_ml")
    sizes = [number(one) for one in given] if isinstance(given, list) else []
    return [size for size in sizes if size is not None and size >= 0]


def _depth_per_hour(event: Event, volumes: list[float]) -> float | None:
    area = number(event["details"].get("can_area_cm2"))
    minutes = number(event["details"].get("duration_min"))
    if area is None or minutes is None or area <= 0 or minutes <= 0:
        return None
    return depth_per_hour(volumes, area, minutes)


def _thousandths(share: float) -> float:
    return math.floor(share * STEPS + 0.5) / STEPS
