"""When a planting's first fruit can be looked for: by the packet's days and by degree days."""

import math

from shedbook.rules.answered import is_answered
from shedbook.rules.finding import HORIZON_DAYS, Finding, Reason, finding, reason
from shedbook.rules.heat_sum import (
    add_up,
    day_ahead,
    day_reached,
    heat_reasons,
    missing_reason,
    pace_reason,
    usable,
)
from shedbook.rules.match import Context, Rule, crop_fact, days, has_ended, limit, number

# More than any crop needs; what is larger was not meant so.
MOST_DAYS = 400
MOST_DEGREE_DAYS = 20_000


def first_pick(context: Context, rule: Rule) -> list[Finding]:
    """One window from the earlier estimate to the later, until something is picked."""
    planting = context.view["planting"]
    start = planting.get("from_day")
    is_picked = "first_pick_day" in planting or is_answered(context, rule, "1")
    if start is None or is_picked or has_ended(planting, context.today):
        return []
    if not 0 < context.today - start <= MOST_DAYS:
        return []
    estimates: list[int] = []
    why: list[Reason] = [reason("first_pick.start", start_day=start)]
    _by_packet(context, start, estimates, why)
    _by_heat(context, rule, start, estimates, why)
    if not estimates:
        return _unknown(context, rule, start, why)
    opens = min(estimates) - days(context, rule, "early_days")
    closes = max(estimates) + days(context, rule, "late_days")
    if opens - context.today > HORIZON_DAYS:
        return []
    state = "upcoming" if context.today < opens else "due" if context.today <= closes else "overdue"
    values = {"opens_day": opens, "closes_day": closes}
    if state == "overdue":
        values["late_days"] = context.today - closes
    why.append(
        reason(
            "first_pick.margin",
            early_days=days(context, rule, "early_days"),
            late_days=days(context, rule, "late_days"),
        )
    )
    made = finding(context, rule, "1", state, values, why, [])
    return [made | {"opens": opens, "due": min(estimates), "closes": closes}]


def _by_packet(context: Context, start: int, estimates: list[int], why: list[Reason]) -> None:
    told = number(context.view["planting"].get("days_to_maturity"))
    if told is not None and 1 <= told <= MOST_DAYS:
        due = start + math.floor(told)
        estimates.append(due)
        why.append(reason("first_pick.packet", told_days=math.floor(told), due_day=due))


def _by_heat(
    context: Context, rule: Rule, start: int, estimates: list[int], why: list[Reason]
) -> None:
    """The day on which the grower's own sum is reached, or would be at the last week's pace."""
    planting = context.view["planting"]
    wanted = number(planting.get("degree_days_to_pick"))
    if wanted is None or not 1 <= wanted <= MOST_DEGREE_DAYS:
        return
    facts = ("degree_days_lower_c", "degree_days_upper_c")
    lower, upper = (number(crop_fact(context, planting.get("crop"), name)) for name in facts)
    thresholds = usable("modified", lower, upper)
    if thresholds is None:
        why.append(reason("first_pick.no_base"))
        return
    heat = add_up(context, thresholds, start)
    most_missing = limit(context, rule, "most_missing_days") or 0
    reached = day_reached(heat, wanted, most_missing)
    if reached is None and heat.missing[-1] > most_missing:
        why.append(missing_reason(heat))
        return
    due = day_ahead(heat, wanted) if reached is None else reached
    why += heat_reasons(heat, wanted)
    if due is None:
        why.append(reason("first_pick.too_cold"))
        return
    estimates.append(due)
    if reached is None:
        why.append(pace_reason(heat, due))


def _unknown(context: Context, rule: Rule, start: int, why: list[Reason]) -> list[Finding]:
    """Asked for once the plants have stood a while, of crops that are picked over and over."""
    crop = context.view["planting"].get("crop")
    if number(crop_fact(context, crop, "pick_every_days")) is None:
        return []
    if context.today - start < days(context, rule, "asks_after_days"):
        return []
    made = finding(context, rule, "1", "unknown", {}, [*why, reason("first_pick.ask")], [])
    return [made | {"settles": None}]
