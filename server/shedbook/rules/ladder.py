"""A stepwise schedule: each day a longer time outside, until raised plants can be planted out."""

from dataclasses import dataclass

from shedbook.rules.anchor import anchor_day, has_happened
from shedbook.rules.finding import Finding, Reason, day_finding, finding, reason
from shedbook.rules.match import (
    Context,
    Event,
    Planting,
    Rule,
    days,
    find_for,
    has_ended,
    limit,
    number,
)


@dataclass
class Climb:
    """How far the plants have come: steps done, days outside, and whether cold set them back."""

    steps: int
    days_out: int
    last: Event | None
    was_cold: bool


def ladder(context: Context, rule: Rule) -> list[Finding]:
    """The next step, or that the last one is done; a flag when planted out too early."""
    planting, params = context.view["planting"], rule["params"]
    if has_ended(planting, context.today) or not has_happened(context, planting, params["needs"]):
        return []
    ends = find_for(context, params["ends_with"], planting)
    climb = _climb(context, rule, planting, ends[0]["day"] if ends else context.today)
    if ends:
        made = _cut_short(context, rule, climb, ends[0])
    elif climb.steps < len(params["hours"]):
        made = _next_step(context, rule, planting, climb)
    else:
        made = _at_the_top(context, rule, climb)
    if made is None or made["key"] in context.declined:
        return []
    return [made]


def _climb(context: Context, rule: Rule, planting: Planting, last_day: int) -> Climb:
    """Days with enough hours climb a step; a day that was too cold goes back one."""
    hours = rule["params"]["hours"]
    too_cold = limit(context, rule, "too_cold_c")
    climb = Climb(0, 0, None, False)
    by_day: dict[int, list[Event]] = {}
    for event in find_for(context, rule["params"]["settled_by"], planting):
        if event["day"] <= last_day:
            by_day.setdefault(event["day"], []).append(event)
    for events in by_day.values():
        lows = [number(event["details"].get("low_c")) for event in events]
        climb.was_cold = any(
            low is not None and too_cold is not None and low < too_cold for low in lows
        )
        climb.last = events[-1]
        climb.days_out += 1
        if climb.was_cold:
            climb.steps = max(0, climb.steps - 1)
        elif climb.steps < len(hours) and _was_enough(events, hours[climb.steps]):
            climb.steps += 1
    return climb


def _was_enough(events: list[Event], wanted: float) -> bool:
    """A day outside without its hours written down counts as the step that was due."""
    total = 0.0
    for event in events:
        hours = number(event["details"].get("hours_outside"))
        if hours is None:
            return True
        total = total + hours
    return total >= wanted


def _next_step(context: Context, rule: Rule, planting: Planting, climb: Climb) -> Finding | None:
    params = rule["params"]
    why: list[Reason] = []
    if climb.last is not None:
        due = climb.last["day"] + 1
        why.append(reason(f"last.{climb.last['kind']}", done_day=climb.last["day"]))
        if climb.was_cold:
            why.append(reason("ladder.cold", limit=limit(context, rule, "too_cold_c")))
    else:
        planned = anchor_day(context, planting, params["day_of"])
        if planned is None:
            return None
        field, day = planned
        due = day - days(context, rule, "starts_before_days")
        why.append(reason(f"anchor.{field}", anchor_day=day))
    step = climb.steps + 1
    hours = params["hours"][climb.steps]
    why.append(reason("ladder.step", step=step, steps=len(params["hours"]), step_hours=hours))
    low, high = limit(context, rule, "air_low_c"), limit(context, rule, "air_high_c")
    why.append(reason("ladder.air", low_c=low, high_c=high))
    why.append(reason("ladder.again"))
    proof = [planting] if climb.last is None else [climb.last]
    made = day_finding(context, rule, f"{step}", due, why, proof)
    if made is not None:
        made["message"]["values"] |= {"step": step, "step_hours": hours}
        details = {"hours_outside": hours}
        made["settles"] = {"kind": params["settled_by"]["kind"], "details": details}
    return made


def _at_the_top(context: Context, rule: Rule, climb: Climb) -> Finding:
    """Every step is done, and planting out may follow."""
    proof = [] if climb.last is None else [climb.last]
    values = {"days": climb.days_out}
    why = [reason("ladder.days_out", days=climb.days_out), *_span(context, rule)]
    made = finding(context, rule, "top", "noted", values, why, proof)
    made["settles"] = None
    return made


def _cut_short(context: Context, rule: Rule, climb: Climb, end: Event) -> Finding | None:
    """Planted out lately after too few days outside."""
    wanted = days(context, rule, "least_days")
    recent = days(context, rule, "recent_days")
    if climb.days_out >= wanted or end["day"] < context.today - recent:
        return None
    values = {"days": climb.days_out, "wanted": wanted}
    why = [reason(f"done.{end['kind']}", done_day=end["day"])]
    why += [reason("ladder.days_out", days=climb.days_out), *_span(context, rule)]
    proof = [end] if climb.last is None else [climb.last, end]
    made = finding(context, rule, "short", "flagged", values, why, proof)
    made["settles"] = {"kind": "decline", "details": {}}
    return made


def _span(context: Context, rule: Rule) -> list[Reason]:
    least, most = days(context, rule, "least_days"), days(context, rule, "most_days")
    return [reason("ladder.span", least=least, most_days=most)]
