"""How long an entry withholds other work: by its label, or by a fixed number of the row.

What a label says counts from the end of the work in instants: a day is 24 hours, whatever the clock
on the wall did. Fixed days are days of the calendar, counted from the day of the work.
"""

import math
from dataclasses import dataclass, replace
from typing import Any

from shedbook.log.moment import parse_moment
from shedbook.rules.finding import Reason, reason
from shedbook.rules.match import (
    AHEAD_S,
    Context,
    Event,
    Json,
    Rule,
    crop_fact,
    holds,
    limit,
    number,
    since,
    text,
)
from shedbook.rules.reach import is_here

DAY_S = 86_400
UNIT_S = {"day": DAY_S, "hour": 3_600}


@dataclass(frozen=True)
class Span:
    """One entry: when its work began and ended, and until when it withholds (None: not known)."""

    event: Event
    begin: int
    end: int
    length: float | None
    until: int | None
    why_unknown: str


def spans_of(context: Context, rule: Rule, start: float = -math.inf) -> list[Span]:
    """Those within reach, also those dated ahead: their true moment is not known.

    What was written of moments before `start` is left out.
    """
    after = conditions_of(rule)
    kinds = dict.fromkeys(one["kind"] for one in after)
    past = {kind: context.by_kind.get(kind, []) for kind in kinds}
    return [
        _span(context, rule, event)
        for kind, events in past.items()
        for event in [*events[since(events, start) :], *context.ahead.get(kind, [])]
        if _withholds(rule, after, event) and is_here(context, rule, event)
    ]


def start_told(context: Context, rule: Rule) -> float:
    """Nothing is told of a span of fixed length that began before this: it runs no more, and work
    that fell into it is no longer flagged. Two days more stand for the offsets of days.
    """
    told = number(rule["params"].get("flagged_days"))
    if told is None or "span" in rule["params"]:
        return -math.inf
    if "span_hours" in rule["params"]:
        lasts = _length(context, rule, "span_hours") * UNIT_S["hour"]
    else:
        lasts = max(_length(context, rule, "span_days"), _chosen_days(context, rule)) * DAY_S
    return (context.today - told - 2) * DAY_S - lasts


def conditions_of(rule: Rule) -> list[Json]:
    """What the rule withholds after: one condition or a list of them."""
    after = rule["params"]["after"]
    return list(after) if isinstance(after, list) else [after]


def _withholds(rule: Rule, after: list[Json], event: Event) -> bool:
    """A figure that was written down from a label counts whatever the rest says."""
    details, span = event["details"], rule["params"].get("span")
    if span is not None and details.get(span["field"]) is not None:
        return True
    return any(
        one["kind"] == event["kind"] and holds(one.get("where", []), details) for one in after
    )


def _span(context: Context, rule: Rule, event: Event) -> Span:
    if "span" in rule["params"]:
        return _labelled(context, rule, event)
    span = _fixed(context, rule, event)
    if span.end > context.now + AHEAD_S:
        return replace(span, length=None, until=None, why_unknown="ahead")
    return _cut_short(context, rule, span) if "ended_by" in rule["params"] else span


def _instant(value: Any) -> int | None:
    """Epoch seconds of a moment in an event's details."""
    written = text(value)
    if written is None:
        return None
    try:
        return parse_moment(written).instant
    except ValueError:
        return None


def _labelled(context: Context, rule: Rule, event: Event) -> Span:
    details = event["details"]
    started = _instant(details.get("started_at"))
    ended = _instant(details.get("ended_at"))
    own: int = event["instant"]
    # It is written down when it ends; a start alone must not let the wait begin before that.
    end = ended if ended is not None else max(own, started if started is not None else own)
    begin = started if started is not None else min(own, end)
    params = rule["params"]
    length = number(details.get(params["span"]["field"]))
    labelless = "no_label" in params and holds(params["no_label"], details)
    if end < begin or end < own - AHEAD_S:
        return Span(event, begin, end, None, None, "times")
    if end > context.now + AHEAD_S:
        return Span(event, begin, end, None, None, "ahead")
    if length is None or length < 0:
        return Span(event, begin, end, None, None, "no_label" if labelless else "no_span")
    until = end + math.ceil(length * UNIT_S[params["span"]["unit"]])
    return Span(event, begin, end, length, until, "no_label" if labelless else "")


def _fixed(context: Context, rule: Rule, event: Event) -> Span:
    own: int = event["instant"]
    if "span_hours" in rule["params"]:
        hours = _length(context, rule, "span_hours")
        return Span(event, own, own, hours, own + math.ceil(hours * UNIT_S["hour"]), "")
    days = math.ceil(max(_length(context, rule, "span_days"), _chosen_days(context, rule)))
    # Offsets are whole minutes, so the seconds of the instant are those of the local clock.
    midnight = own - event["hour"] * 3_600 - event["minute"] * 60 - own % 60
    return Span(event, own, own, days, midnight + days * DAY_S, "")


def _length(context: Context, rule: Rule, param: str) -> float:
    """A garden may set a caution as it likes, but what withholds work only longer."""
    own, row = limit(context, rule, param) or 0, number(rule["params"][param]) or 0
    return own if "softly" in rule["params"] else max(own, row)


def _chosen_days(context: Context, rule: Rule) -> float:
    """The longer span, unless the crop is known not to need it."""
    choose = rule["params"].get("choose")
    is_spared = choose is None or fact_of(context, rule) is False
    return 0 if is_spared else choose["span_days"]


def fact_of(context: Context, rule: Rule) -> Any:
    """What is known of the crop's fact that the length hangs on: true, false, or None."""
    planting = context.view["planting"] or {}
    fact = crop_fact(context, planting.get("crop"), rule["params"]["choose"]["fact"])
    return fact if isinstance(fact, bool) else None


def _cut_short(context: Context, rule: Rule, span: Span) -> Span:
    """The span ends early where something that ends it was written down."""
    until = span.until or 0
    for ender in rule["params"]["ended_by"]:
        events = context.by_kind.get(ender["kind"], [])
        for event in events[since(events, span.end) : since(events, until)]:
            if holds(ender.get("where", []), event["details"]) and is_here(context, rule, event):
                until = event["instant"]
                break
    return replace(span, until=until)


def span_reasons(context: Context, rule: Rule, span: Span) -> list[Reason]:
    """How the end was counted, and why it is this long."""
    params = rule["params"]
    if "span" in params:
        unit = params["span"]["unit"]
        key = f"withhold.span_{unit}s"
    else:
        unit = "hour" if "span_hours" in params else "day"
        key = f"withhold.fixed_{unit}s"
    values = {f"span_{unit}s": span.length, "end_instant": span.end, "until_instant": span.until}
    told = [reason(key, **values)]
    if "choose" in params:
        known = {True: "yes", False: "no", None: "unknown"}[fact_of(context, rule)]
        told.append(reason(f"{rule.get('says', 'withhold')}.{params['choose']['fact']}_{known}"))
    return told
