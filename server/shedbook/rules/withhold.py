"""An entry that withholds other kinds of work until a span has passed, or only warns of them.

What the log does not say is unknown, and stays unknown; nothing here ever ends in "may be done".
A row with `softly` blocks nothing: it notes until when, and flags what was done all the same, but
not of plants that are gone.
"""

from typing import Any

from shedbook.rules.finding import Finding, finding, key_prefix, reason
from shedbook.rules.match import (
    Context,
    Event,
    Rule,
    has_ended,
    holds,
    in_time,
    is_partial,
    named_plants,
    number,
    since,
)
from shedbook.rules.reach import is_work_here
from shedbook.rules.span import DAY_S, Span, span_reasons, spans_of, start_told


def withhold(context: Context, rule: Rule) -> list[Finding]:
    """One finding for each span that runs, one where none is known, one for each offence."""
    is_warning = "softly" in rule["params"]
    planting = context.view["planting"]
    if is_warning and planting is not None and has_ended(planting, context.today):
        return []
    spans = spans_of(context, rule, start_told(context, rule))
    kept = [span for span in spans if "lifted" not in span.event]
    if is_warning:
        return _warning(context, rule, kept) + _offences(context, rule, kept)
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
    if "softly" in rule["params"]:
        return []
    running = [
        span
        for span in spans_of(context, rule)
        if "lifted" not in span.event and _runs(context, span)
    ]
    return [_running(context, rule, span) for span in running]


def in_doubt(context: Context, rule: Rule, kind: str) -> set[str]:
    """The ids of work that followed something whose wait nobody knows, or has decided on.

    Also once the planting has ended: what was picked is then still in the store.
    """
    prefix, done = key_prefix(context, rule), context.by_kind.get(kind, [])
    return {
        work["id"]
        for span in spans_of(context, rule)
        if span.why_unknown != "" and "lifted" not in span.event
        if prefix + span.event["id"] not in context.declined
        for work in done[since(done, span.begin) :]
        if _is_against(context, rule, span.event, work) and is_work_here(context, rule, work)
    }


def _blocked_kinds(context: Context, rule: Rule) -> list[str]:
    """The kinds of work that the rule withholds."""
    blocks = rule["params"]["blocks"]
    return list(context.rulebook["hand_work"] if blocks == "hand_work" else blocks)


def _runs(context: Context, span: Span) -> bool:
    return span.until is not None and context.now < span.until


def _is_unknown(context: Context, rule: Rule, span: Span) -> bool:
    planting = context.view["planting"]
    if planting is not None and has_ended(planting, context.today):
        return False
    # The row's own number: no threshold of a garden may silence what is not known.
    lasts = number(rule["params"].get("unknown_lasts_days"))
    if lasts is not None and context.now - span.end > lasts * DAY_S:
        return False
    return span.why_unknown != "" and not _runs(context, span)


def _about(context: Context, rule: Rule, made: Finding, event: Event) -> Finding:
    """Name the plants and the kinds of work that the finding holds back or warns of."""
    if rule["params"]["reach"] == "plants" and is_partial(event):
        made["subject"]["plants"] = list(event["plants"])
    if made["state"] in ("blocked", "unknown"):
        made["blocks"] = _blocked_kinds(context, rule)
        made["settles"] = None
    return made


def _running(context: Context, rule: Rule, span: Span) -> Finding:
    values = {"until_instant": span.until}
    why = span_reasons(context, rule, span)
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


def _warning(context: Context, rule: Rule, spans: list[Span]) -> list[Finding]:
    """One note until the latest end, with the kinds of work that it warns of."""
    running = [span for span in spans if _runs(context, span)]
    if not running:
        return []
    last = max(running, key=_by_end)
    if key_prefix(context, rule) + last.event["id"] in context.declined:
        return []
    event = last.event
    why = [reason(f"did.{event['kind']}", happened_instant=event["instant"])]
    why += span_reasons(context, rule, last)
    values = {"until_instant": last.until}
    made = finding(context, rule, event["id"], "noted", values, why, [event])
    made |= {"from": last.begin, "until": last.until, "settles": None}
    made["warns"] = _blocked_kinds(context, rule)
    return [_about(context, rule, made, event)]


def _by_end(span: Span) -> tuple[int, str]:
    return span.until or 0, span.event["id"]


def _offences(context: Context, rule: Rule, spans: list[Span]) -> list[Finding]:
    """Withheld work that was logged all the same, each with the span that ran longest."""
    found: list[Finding] = []
    broken = _broken(context, rule, spans)
    told = number(rule["params"].get("flagged_days"))
    for event in in_time(event for event, _ in broken.values()):
        ordinal = f"flag.{event['id']}"
        is_old = told is not None and context.today - event["day"] > told
        if is_old or key_prefix(context, rule) + ordinal in context.declined:
            continue
        over = broken[event["id"]][1]
        last = max(over, key=_by_end)
        values = {"happened_instant": event["instant"], "until_instant": last.until}
        why = [reason(f"did.{event['kind']}", happened_instant=event["instant"])]
        why += span_reasons(context, rule, last)
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
                is_meant = holds(rule["params"].get("blocks_where", []), event["details"])
                is_against = is_meant and _is_against(context, rule, span.event, event)
                if is_against and is_work_here(context, rule, event):
                    found.setdefault(event["id"], (event, []))[1].append(span)
    return found


def _is_against(context: Context, rule: Rule, treated: Event, worked: Event) -> bool:
    """Did the work touch what was treated?"""
    if worked["id"] == treated["id"]:
        return False
    is_whole = rule["params"]["reach"] in ("bed", "soil")
    if is_whole or not (is_partial(treated) and is_partial(worked)):
        return True
    return not named_plants(context, treated).isdisjoint(worked["plants"])


def _lifted(context: Context, rule: Rule, span: Span) -> Finding:
    lifted: dict[str, Any] = span.event["lifted"]
    values = {"until_instant": span.until, "lifted_instant": lifted["instant"]}
    who = reason("withhold.lifted", person=lifted.get("person"), lifted_instant=lifted["instant"])
    why = [who, *span_reasons(context, rule, span)]
    made = finding(context, rule, span.event["id"], "noted", values, why, [span.event])
    made |= {"from": span.begin, "until": span.until}
    made["message"]["key"] = "withhold.lifted"
    made["settles"] = None
    return _about(context, rule, made, span.event)
