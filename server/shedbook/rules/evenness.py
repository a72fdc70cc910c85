"""How regular a kind of event is over the last days: gaps, their spread, hours and methods."""

import itertools
import math
from typing import Any

from shedbook.rules.finding import Finding, Reason, finding, key_prefix, reason
from shedbook.rules.gap import DAY_S, HOUR_S, standing_plantings, start_of
from shedbook.rules.match import (
    Context,
    Event,
    Planting,
    Rule,
    concerns,
    days,
    find,
    in_time,
    is_partial,
    limit,
    live_plants,
    since,
    text,
)

# A spread is compared and shown in thousandths, so that no last bit decides.
STEPS = 1000


def evenness(context: Context, rule: Rule) -> list[Finding]:
    """The figures of the window, flagged where a limit is passed, unknown where too few."""
    plantings = standing_plantings(context)
    window = days(context, rule, "window_days")
    opens = context.now - window * DAY_S
    declined = context.declined.get(key_prefix(context, rule) + "window")
    if not plantings or (declined is not None and declined >= opens):
        return []
    start = max(opens, min(start_of(context, planting) for planting in plantings))
    counted = _counted(context, rule, plantings, start)
    gaps = [
        (later["instant"] - earlier["instant"]) / HOUR_S
        for earlier, later in itertools.pairwise(counted)
    ]
    values: dict[str, Any] = {"window_days": window, "gaps": len(gaps)}
    needed = max(limit(context, rule, "min_gaps") or 0, 1)
    if len(gaps) < needed:
        why = [reason("evenness.few", gaps=len(gaps), needed=needed, window_days=window)]
        return [finding(context, rule, "window", "unknown", values, why, counted)]
    running = (context.now - counted[-1]["instant"]) / HOUR_S
    values |= _spread(gaps, running)
    values |= _shares(context, rule, counted)
    over = _over(context, rule, values)
    why = [reason("evenness.gaps", **values), *over, *_share_reasons(context, rule, values)]
    return [finding(context, rule, "window", "flagged" if over else "noted", values, why, counted)]


def _counted(context: Context, rule: Rule, plantings: list[Planting], start: int) -> list[Event]:
    """The rounds of every planting from the start to now, earliest first, each once."""
    events: dict[str, Event] = {}
    for condition in rule["params"]["counts"]:
        found = find(context, condition)
        for event in found[since(found, start) : since(found, context.now + 1)]:
            events[event["id"]] = event
    sorted_events = in_time(events.values())
    rounds = [
        event for planting in plantings for event in _rounds(context, planting, sorted_events)
    ]
    return in_time({event["id"]: event for event in rounds}.values())


def _rounds(context: Context, planting: Planting, events: list[Event]) -> list[Event]:
    """The events by which every living plant was reached once more; plant by plant adds up."""
    live = set(live_plants(planting, context.today))
    waiting = live
    found = []
    for event in events:
        if concerns(event, planting):
            waiting = waiting - set(event["plants"]) if is_partial(event) else set()
            if not waiting:
                found.append(event)
                waiting = live
    return found


def _spread(gaps: list[float], running: float) -> dict[str, float]:
    """The longest gap counts the one still running; mean and spread only those that closed."""
    total = 0.0
    longest = running
    for gap in gaps:
        total += gap
        longest = max(longest, gap)
    mean = total / len(gaps)
    squares = 0.0
    for gap in gaps:
        squares += (gap - mean) * (gap - mean)
    deviation = math.sqrt(squares / (len(gaps) - 1)) if len(gaps) > 1 else 0.0
    cv = math.floor(deviation / mean * STEPS + 0.5) / STEPS if mean > 0 else 0.0
    return {"longest_gap_hours": longest, "mean_gap_hours": mean, "spread_share": cv}


def _shares(context: Context, rule: Rule, counted: list[Event]) -> dict[str, float]:
    """Shares among the events that the grower chose the hour and the method of."""
    chosen = [event for event in counted if event["kind"] == rule["params"]["shares_of"]]
    if not chosen:
        return {}
    before = limit(context, rule, "morning_before_hour") or 0
    morning = [event for event in chosen if event["hour"] < before]
    usual = text((context.view["bed"] or {}).get("water_method"))
    methods = [text(event["details"].get("method")) or usual for event in chosen]
    known = [method for method in methods if method is not None]
    shares = {"morning_share": len(morning) / len(chosen)}
    if known:
        overhead = [method for method in known if method == "overhead"]
        shares["overhead_share"] = len(overhead) / len(known)
    return shares


def _over(context: Context, rule: Rule, values: dict[str, Any]) -> list[Reason]:
    longest = limit(context, rule, "limit_longest_gap_hours")
    spread = limit(context, rule, "limit_cv")
    over = []
    if longest is not None and values["longest_gap_hours"] > longest:
        gap_hours = values["longest_gap_hours"]
        over.append(reason("evenness.long_gap", gap_hours=gap_hours, limit_hours=longest))
    if spread is not None and values["spread_share"] > spread:
        over.append(
            reason("evenness.spread", spread_share=values["spread_share"], limit_share=spread)
        )
    return over


def _share_reasons(context: Context, rule: Rule, values: dict[str, Any]) -> list[Reason]:
    made = []
    if "morning_share" in values:
        hour = limit(context, rule, "morning_before_hour") or 0
        made.append(reason("evenness.morning", morning_share=values["morning_share"], hour=hour))
    if "overhead_share" in values:
        made.append(reason("evenness.overhead", overhead_share=values["overhead_share"]))
    return made
