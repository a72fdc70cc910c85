"""Whether the air around seedlings was warm enough by night and by day, before they harden."""

from shedbook.rules.answered import is_declined_since
from shedbook.rules.daily import DAY_S, events_in_days
from shedbook.rules.finding import Finding, finding, reason
from shedbook.rules.match import Context, Event, Rule, days, find_for, has_ended, limit, number

AIR = "air"


def tray_air(context: Context, rule: Rule) -> list[Finding]:
    """The cold days among the last that were read beside the tray; nothing without a reading."""
    planting = context.view["planting"]
    is_raised = "sown_day" in planting or "emerged_day" in planting
    if not is_raised or "from_day" in planting or has_ended(planting, context.today):
        return []
    window = days(context, rule, "window_days")
    since = (context.today - window) * DAY_S
    if _hardens(context) or is_declined_since(context, rule, AIR, since):
        return []
    events = events_in_days(context, "air_temperature", context.today - window + 1, context.today)
    proof = [event for event in events if event.get("planting") == planting["id"]]
    read = _by_day(proof)
    night = limit(context, rule, "night_low_c") or 0
    day = limit(context, rule, "day_high_c") or 0
    cold_nights = {on for on, (low, _) in read.items() if low is not None and low < night}
    cool_days = {on for on, (_, high) in read.items() if high is not None and high < day}
    cold = cold_nights | cool_days
    if not cold:
        return []
    values = {"cold_days": len(cold), "read_days": len(read)}
    why = [
        reason("tray_air.nights", cold_nights=len(cold_nights), night_low_c=night),
        reason("tray_air.days", cool_days=len(cool_days), day_high_c=day),
        reason("tray_air.change"),
    ]
    many = len(cold) >= max(limit(context, rule, "flag_days") or 0, 1)
    return [finding(context, rule, AIR, "flagged" if many else "noted", values, why, proof)]


def _by_day(events: list[Event]) -> dict[int, tuple[float | None, float | None]]:
    """The lowest low and the highest high that were read on each day."""
    read: dict[int, tuple[float | None, float | None]] = {}
    for event in events:
        lowest, highest = read.get(event["day"], (None, None))
        low, high = (number(event["details"].get(name)) for name in ("low_c", "high_c"))
        if lowest is None or (low is not None and low < lowest):
            lowest = low
        if highest is None or (high is not None and high > highest):
            highest = high
        read[event["day"]] = (lowest, highest)
    return read


def _hardens(context: Context) -> bool:
    """Has the planting begun to be hardened? Then cold is meant."""
    return bool(find_for(context, {"kind": "harden"}, context.view["planting"]))
