"""Due again so many days after it was last done, from an anchor on."""

import math
from collections.abc import Sequence

from shedbook.rules.finding import Finding, day_finding, key_prefix, name_plants, reason
from shedbook.rules.match import (
    Context,
    Event,
    Rule,
    covers,
    crop_fact,
    find_for,
    has_ended,
    in_time,
    limit,
    live_plants,
    number,
    plant_groups,
    time_of,
)


def repeat_every(context: Context, rule: Rule) -> list[Finding]:
    """The next time that the work is due; with `each`, one for every running course."""
    params = rule["params"]
    planting = context.view["planting"]
    interval = _interval(context, rule)
    anchors = find_for(context, params["anchor"], planting)
    if interval is None or not anchors or has_ended(planting, context.today):
        return []
    work = find_for(context, params["settled_by"], planting)
    work += [
        event
        for event in find_for(context, {"kind": "decline"}, planting)
        if event.get("answers", "").startswith(key_prefix(context, rule))
    ]
    if params["anchor"].get("each"):
        return _courses(context, rule, interval, anchors, work)
    first = anchors[0]
    done = in_time(event for event in work if time_of(event) > time_of(first))
    made = _next(context, rule, "", interval, [first, *done])
    return [] if made is None else [made]


def _interval(context: Context, rule: Rule) -> int | None:
    """Days from one time to the next: the row's, or what the crop's row says."""
    chosen = limit(context, rule, "every_days")
    field = rule["params"].get("every_days_of_crop")
    if chosen is None and field is not None:
        chosen = number(crop_fact(context, context.view["planting"].get("crop"), field))
    return None if chosen is None or chosen < 1 else int(chosen)


def _courses(
    context: Context, rule: Rule, interval: int, anchors: list[Event], work: list[Event]
) -> list[Finding]:
    """Plants whose running course began with the same entry and is as far share a finding."""
    live = live_plants(context.view["planting"], context.today)
    events = in_time({event["id"]: event for event in [*anchors, *work]}.values())
    starts = {event["id"] for event in anchors}
    settles = {event["id"] for event in work}
    found: dict[str, tuple[Finding, list[int]]] = {}
    for plants in plant_groups(live, events):
        mine = [event for event in events if covers(context, event, plants[0])]
        course = _course(context, rule, mine, starts)
        done = [event for event in course[1:] if event["id"] in settles]
        if not course:
            continue
        lead = f"{course[0]['id']}."
        made = _next(context, rule, lead, interval, [course[0], *done])
        if made is None:
            continue
        kept, named = found.setdefault(made["key"], (made, []))
        named.extend(plants)
        if made["due"] < kept["due"]:
            found[made["key"]] = (made, named)
    for made, plants in found.values():
        name_plants(made, plants, live)
    return [made for made, _ in found.values()]


def _course(
    context: Context, rule: Rule, events: Sequence[Event], starts: set[str]
) -> Sequence[Event]:
    """The plants' last course: the event that began it and what followed while it lasted."""
    course: list[Event] = []
    for event in events:
        if course and event["day"] <= _last_day(context, rule, course[0]):
            course.append(event)
        elif event["id"] in starts:
            course = [event]
    return course


def _last_day(context: Context, rule: Rule, first: Event) -> float:
    lasts = limit(context, rule, "lasts_days")
    day: int = first["day"]
    return math.inf if lasts is None else day + int(lasts)


def _next(
    context: Context, rule: Rule, lead: str, interval: int, course: list[Event]
) -> Finding | None:
    """What follows the first event and the times it was done since."""
    last_day = _last_day(context, rule, course[0])
    due = course[-1]["day"] + interval
    if due > last_day or context.today > last_day:
        return None
    reasons = [reason(f"done.{course[0]['kind']}", done_day=course[0]["day"])]
    if len(course) > 1:
        last = course[-1]
        reasons.append(reason(f"last.{last['kind']}", done_day=last["day"]))
    reasons.append(reason("repeat_every.interval", interval_days=interval, due_day=due))
    if last_day != math.inf:
        reasons.append(reason("repeat_every.lasts", last_day=last_day))
    events = course if len(course) == 1 else [course[0], course[-1]]
    return day_finding(context, rule, f"{lead}{len(course)}", due, reasons, events)
