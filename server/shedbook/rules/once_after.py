"""Due in a window so many days after an anchor, once for each number, plant by plant.

The anchor is an event, or a day of the planting or of the garden; then the work may come before
it. With `each`, every event of the anchor's kind asks for its own work, once it is done or lapses.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shedbook.rules.anchor import LAST_FROST, anchor_day, has_happened
from shedbook.rules.finding import (
    Finding,
    Reason,
    day_finding,
    key_prefix,
    name_plants,
    reason,
)
from shedbook.rules.match import (
    Context,
    Event,
    Planting,
    Rule,
    covers,
    days,
    find_for,
    has_ended,
    in_time,
    limit,
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
    planting, params = context.view["planting"], rule["params"]
    is_each = "each" in params["anchor"]
    if not is_each and has_ended(planting, context.today):
        return []
    if has_happened(context, planting, params.get("only_before", [])):
        return []
    anchors = _anchors(context, rule, planting)
    if not anchors:
        return []
    work = [*_settling(context, rule, planting), *find_for(context, {"kind": "decline"}, planting)]
    if is_each:
        return _for_each(context, rule, anchors, work)
    intervals = params["due_after_days"]
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


def _settling(context: Context, rule: Rule, planting: Planting) -> list[Event]:
    asked = rule["params"]["settled_by"]
    conditions = asked if isinstance(asked, list) else [asked]
    return [event for one in conditions for event in find_for(context, one, planting)]


def _anchors(context: Context, rule: Rule, planting: Planting) -> list[Event]:
    """The events to count from; a day that no event stands for is told of like one."""
    anchor = rule["params"]["anchor"]
    if "day_of" not in anchor:
        return find_for(context, anchor, planting)
    found = anchor_day(context, planting, anchor["day_of"])
    return [] if found is None else [{"id": planting["id"], "kind": found[0], "day": found[1]}]


def _for_each(
    context: Context, rule: Rule, anchors: Sequence[Event], work: Sequence[Event]
) -> list[Finding]:
    """What each anchor asks for, until something that settles it follows."""
    prefix = key_prefix(context, rule)
    before = days(context, rule, "opens_before_days")
    found: list[Finding | None] = []
    for anchor in anchors:
        for number, interval in enumerate(rule["params"]["due_after_days"], start=1):
            ordinal = f"{anchor['id']}.{number}"
            if _has_lapsed(context, rule, anchor["day"] + interval):
                continue
            opens = anchor["day"] + interval - before
            if not any(
                event.get("answers") == prefix + ordinal
                or (
                    event["kind"] != "decline"
                    and event["day"] >= opens
                    and event["instant"] >= anchor["instant"]
                )
                for event in work
            ):
                found.append(_finding(context, rule, Open(anchor, ordinal, interval, []), [], {}))
    return [made for made in found if made is not None]


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
    anchor, interval = entry.anchor, entry.interval_days
    due = anchor["day"] + interval
    if _has_lapsed(context, rule, due):
        return None
    reasons = [_told(rule, anchor)]
    if interval < 0:
        reasons.append(reason("once_after.before", before_days=0 - interval, due_day=due))
    else:
        reasons.append(reason("once_after.interval", interval_days=interval, due_day=due))
    # A frost day is a setting of the garden, which no entry of this planting proves.
    proof = [one for one in [anchor, *in_time(done.values())] if one["kind"] != LAST_FROST]
    made = day_finding(context, rule, entry.ordinal, due, reasons, proof)
    if made is not None:
        name_plants(made, entry.plants, live)
    return made


def _has_lapsed(context: Context, rule: Rule, due: int) -> bool:
    lapses = limit(context, rule, "lapses_after_days")
    closes = due + days(context, rule, "closes_after_days")
    return lapses is not None and context.today > closes + lapses


def _told(rule: Rule, anchor: Event) -> Reason:
    if "day_of" in rule["params"]["anchor"]:
        return reason(f"anchor.{anchor['kind']}", anchor_day=anchor["day"])
    return reason(f"done.{anchor['kind']}", done_day=anchor["day"])
