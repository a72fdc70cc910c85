"""An entry that withholds other kinds of work until a span has passed.

Counted from the end of the work in instants: a day is 24 hours, whatever the clock on the wall did.
What the log does not say is unknown, and stays unknown; nothing here ever ends in "may be done".
"""

import math
from dataclasses import dataclass
from typing import Any

from shedbook.log.moment import parse_moment
from shedbook.rules.finding import Finding, finding, key_prefix, reason
from shedbook.rules.match import (
    AHEAD_S,
    Context,
    Event,
    Json,
    Planting,
    Rule,
    has_ended,
    holds,
    in_time,
    is_partial,
    named_plants,
    number,
    since,
    text,
)

UNIT_S = {"day": 86_400, "hour": 3_600}


@dataclass(frozen=True)
class Span:
    """One treatment: when it began and ended, and until when it withholds (None: not known)."""

    event: Event
    begin: int
    end: int
    length: float | None
    until: int | None
    why_unknown: str


def withhold(context: Context, rule: Rule) -> list[Finding]:
    """One finding for each span that runs, one where none is known, one for each offence."""
    spans = [_span(context, rule, event) for event in _treatments(context, rule)]
    kept = [span for span in spans if "lifted" not in span.event]
    found = [_running(context, rule, span) for span in kept if _runs(context, span)]
    found += _unknown(context, rule, [span for span in kept if _is_unknown(context, rule, span)])
    found += _offences(context, rule, kept)
    found += [
        _lifted(context, rule, span)
        for span in spans
        if "lifted" in span.event and _runs(context, span)
    ]
    return found


def running_spans(context: Context, rule: Rule) -> list[Finding]:
    """Only what withholds work at this moment."""
    spans = [_span(context, rule, event) for event in _treatments(context, rule)]
    running = [span for span in spans if "lifted" not in span.event and _runs(context, span)]
    return [_running(context, rule, span) for span in running]


def _blocked_kinds(context: Context, rule: Rule) -> list[str]:
    """The kinds of work that the rule withholds."""
    blocks = rule["params"]["blocks"]
    return list(context.rulebook["hand_work"] if blocks == "hand_work" else blocks)


def _treatments(context: Context, rule: Rule) -> list[Event]:
    """Those within reach, also those dated ahead: their true moment is not known."""
    after = rule["params"]["after"]
    kind = after["kind"]
    events = [*context.by_kind.get(kind, []), *context.ahead.get(kind, [])]
    return [
        event
        for event in events
        if _withholds(rule, event["details"]) and _is_here(context, rule, event)
    ]


def _withholds(rule: Rule, details: Json) -> bool:
    """A figure that was written down from a label counts whatever the rest says."""
    is_told = details.get(rule["params"]["span"]["field"]) is not None
    return is_told or holds(rule["params"]["after"].get("where", []), details)


def _is_here(context: Context, rule: Rule, event: Event) -> bool:
    """Is the event within the rule's reach? What names no bed is in a view for its plants."""
    planting = context.view["planting"]
    if planting is None:
        return "bed" not in event or event["bed"] == (context.view["bed"] or {}).get("id")
    if rule["params"]["reach"] == "plants":
        return _is_on(event, planting)
    return _is_around(context, event, planting)


def _is_on(event: Event, planting: Planting) -> bool:
    """Did it reach these plants: by name, with their bed, or with a bed they stood in before?"""
    if "planting" in event:
        return bool(event["planting"] == planting["id"])
    if "bed" in event and event["bed"] != planting.get("bed"):
        return event["bed"] in planting.get("beds", [])
    # What went into the bed later was not met; of what has no such day that can't be said.
    start = planting.get("from_day")
    return start is None or start <= event["day"]


def _is_around(context: Context, event: Event, planting: Planting) -> bool:
    """Must the planting itself tell of it, since no finding of its bed does?"""
    bed, bed_id = context.view["bed"], planting.get("bed")
    is_unseen = bed is None or bed["hidden"]
    if "planting" in event and event["planting"] == planting["id"]:
        return is_unseen or event.get("bed") != bed_id
    if "bed" not in event and "planting" not in event:
        return True
    return is_unseen and bed_id is not None and event.get("bed", bed_id) == bed_id


def _instant(value: Any) -> int | None:
    """Epoch seconds of a moment in an event's details."""
    written = text(value)
    if written is None:
        return None
    try:
        return parse_moment(written).instant
    except ValueError:
        return None


def _span(context: Context, rule: Rule, event: Event) -> Span:
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


def _runs(context: Context, span: Span) -> bool:
    return span.until is not None and context.now < span.until


def _is_unknown(context: Context, rule: Rule, span: Span) -> bool:
    planting = context.view["planting"]
    if planting is not None and has_ended(planting, context.today):
        return False
    # The row's own number: no threshold of a garden may silence what is not known.
    lasts = number(rule["params"].get("unknown_lasts_days"))
    if lasts is not None and context.now - span.end > lasts * UNIT_S["day"]:
        return False
    return span.why_unknown != "" and not _runs(context, span)


def _about(context: Context, rule: Rule, made: Finding, event: Event) -> Finding:
    """Name the plants and the kinds of work that the finding holds back."""
    if rule["params"]["reach"] == "plants" and is_partial(event):
        made["subject"]["plants"] = list(event["plants"])
    if made["state"] in ("blocked", "unknown"):
        made["blocks"] = _blocked_kinds(context, rule)
        made["settles"] = None
    return made


def _span_reason(rule: Rule, span: Span) -> dict[str, Any]:
    unit = rule["params"]["span"]["unit"]
    values = {f"span_{unit}s": span.length, "end_instant": span.end, "until_instant": span.until}
    return reason(f"withhold.span_{unit}s", **values)


def _running(context: Context, rule: Rule, span: Span) -> Finding:
    values = {"until_instant": span.until}
    why = [_span_reason(rule, span)]
    made = finding(context, rule, span.event["id"], "blocked", values, why, [span.event])
    made |= {"from": span.begin, "until": span.until}
    return _about(context, rule, made, span.event)


def _unknown(context: Context, rule: Rule, spans: list[Span]) -> list[Finding]:
    """The latest treatment that is not decided on speaks for earlier ones of the same plants."""
    found: list[Finding] = []
    seen: set[int] = set()
    for span in sorted(spans, key=lambda one: (one.end, one.event["id"]), reverse=True):
        event = span.event
        partial = rule["params"]["reach"] == "plants" and is_partial(event)
        if partial and seen.issuperset(event["plants"]):
            continue
        if key_prefix(context, rule) + event["id"] in context.declined:
            continue
        why = [reason(f"withhold.{span.why_unknown}", end_instant=span.end)]
        values = {"end_instant": span.end}
        made = finding(context, rule, event["id"], "unknown", values, why, [event])
        found.append(_about(context, rule, made | {"from": span.begin}, event))
        if not partial:
            break
        seen.update(event["plants"])
    return found


def _offences(context: Context, rule: Rule, spans: list[Span]) -> list[Finding]:
    """Withheld work that was logged all the same, each with the span that ran longest."""
    found: list[Finding] = []
    broken = _broken(context, rule, spans)
    for event in in_time(event for event, _ in broken.values()):
        ordinal = f"flag.{event['id']}"
        if key_prefix(context, rule) + ordinal in context.declined:
            continue
        over = broken[event["id"]][1]
        last = max(over, key=lambda span: (span.until, span.event["id"]))
        values = {"happened_instant": event["instant"], "until_instant": last.until}
        why = [reason(f"did.{event['kind']}", happened_instant=event["instant"])]
        why.append(_span_reason(rule, last))
        proof = [span.event for span in over] + [event]
        made = finding(context, rule, ordinal, "flagged", values, why, proof)
        made |= {"from": last.begin, "until": last.until}
        found.append(_about(context, rule, made, event))
    return found


def _broken(context: Context, rule: Rule, spans: list[Span]) -> dict[str, tuple[Event, list[Span]]]:
    """Work inside a span, by its id, with the spans it fell into."""
    found: dict[str, tuple[Event, list[Span]]] = {}
    kinds = [context.by_kind.get(kind, []) for kind in _blocked_kinds(context, rule)]
    for span in spans:
        for events in kinds:
            end = since(events, span.begin if span.until is None else span.until)
            for event in events[since(events, span.begin) : end]:
                is_against = _is_against(context, rule, span.event, event)
                if is_against and _is_here(context, rule, event):
                    found.setdefault(event["id"], (event, []))[1].append(span)
    return found


def _is_against(context: Context, rule: Rule, treated: Event, worked: Event) -> bool:
    """Did the work touch what was treated?"""
    if worked["id"] == treated["id"]:
        return False
    if rule["params"]["reach"] == "bed" or not (is_partial(treated) and is_partial(worked)):
        return True
    return not named_plants(context, treated).isdisjoint(worked["plants"])


def _lifted(context: Context, rule: Rule, span: Span) -> Finding:
    lifted = span.event["lifted"]
    values = {"until_instant": span.until, "lifted_instant": lifted["instant"]}
    who = reason("withhold.lifted", person=lifted.get("person"), lifted_instant=lifted["instant"])
    why = [who, _span_reason(rule, span)]
    made = finding(context, rule, span.event["id"], "noted", values, why, [span.event])
    made |= {"from": span.begin, "until": span.until}
    made["message"]["key"] = "withhold.lifted"
    made["settles"] = None
    return _about(context, rule, made, span.event)
