"""Due in a window so many days after an anchor, once for each number, plant by plant."""

from dataclasses import dataclass

from shedbook.rules.finding import Finding, day_finding, key_prefix, name_plants, reason
from shedbook.rules.match import (
    Context,
    Event,
    Rule,
    covers,
    days,
    find_for,
    has_ended,
    in_time,
    live_plants,
    plant_groups,
)


@dataclass
class Open:
    """One number of one anchor that some plants still wait for."""

    anchor: Event
    ordinal: str
    interval_days: int
    plants: list[int]


def once_after(context: Context, rule: Rule) -> list[Finding]:
    """One finding for each number of days whose work is still open for some plants."""
    planting = context.view["planting"]
    if has_ended(planting, context.today):
        return []
    intervals = rule["params"]["due_after_days"]
    anchors = find_for(context, rule["params"]["anchor"], planting)
    work = find_for(context, rule["params"]["settled_by"], planting)
    work += find_for(context, {"kind": "decline"}, planting)
    live = live_plants(planting, context.today)
    still_open: dict[str, Open] = {}
    done: dict[str, Event] = {}
    for plants in plant_groups(live, [*anchors, *work]):
        anchor = next((event for event in anchors if covers(context, event, plants[0])), None)
        if anchor is None:
            continue
        # The first anchor's numbers stand alone, so that correcting its date keeps their keys.
        lead = "" if anchor is anchors[0] else f"{anchor['id']}."
        ordinals = [f"{lead}{number}" for number in range(1, len(intervals) + 1)]
        mine = [event for event in work if covers(context, event, plants[0])]
        settlers = _settlers(context, rule, anchor, ordinals, mine)
        for ordinal, interval, settler in zip(ordinals, intervals, settlers, strict=True):
            if settler is None:
                entry = still_open.setdefault(ordinal, Open(anchor, ordinal, interval, []))
                entry.plants.extend(plants)
            else:
                done[settler["id"]] = settler
    findings = [_finding(context, rule, entry, live, done) for entry in still_open.values()]
    return [made for made in findings if made is not None]


def _settlers(
    context: Context, rule: Rule, anchor: Event, ordinals: list[str], work: list[Event]
) -> list[Event | None]:
    """For each number the event that settles it, or None; no event settles two."""
    keys = [key_prefix(context, rule) + ordinal for ordinal in ordinals]
    free = [
        event for event in work if event["kind"] != "decline" and event.get("answers") not in keys
    ]
    before = days(context, rule, "opens_before_days")
    found: list[Event | None] = []
    for key, interval in zip(keys, rule["params"]["due_after_days"], strict=True):
        opens = anchor["day"] + interval - before
        settler = next((event for event in work if event.get("answers") == key), None)
        if settler is None:
            settler = next((event for event in free if event["day"] >= opens), None)
            free = [event for event in free if event is not settler]
        found.append(settler)
    return found


def _finding(
    context: Context, rule: Rule, entry: Open, live: list[int], done: dict[str, Event]
) -> Finding | None:
    anchor = entry.anchor
    due = anchor["day"] + entry.interval_days
    reasons = [
        reason(f"done.{anchor['kind']}", done_day=anchor["day"]),
        reason("once_after.interval", interval_days=entry.interval_days, due_day=due),
    ]
    made = day_finding(
        context, rule, entry.ordinal, due, reasons, [anchor, *in_time(done.values())]
    )
    if made is not None:
        name_plants(made, entry.plants, live)
    return made
