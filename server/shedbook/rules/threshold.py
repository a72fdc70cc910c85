"""A value against limits: a measurement, a plan, or what was written down with some work.

Without `at`, the value of today is judged, perhaps only in the days around a planned day (`gate`);
with `at`, each recent event of a kind is judged by the value that held then. A value that is
missing is unknown where the row `asks` for it, and passed over where it does not.
"""

from dataclasses import dataclass
from typing import Any

from shedbook.rules.anchor import anchor_day, has_happened
from shedbook.rules.finding import Finding, Reason, finding, key_prefix, reason
from shedbook.rules.match import (
    Context,
    Event,
    Rule,
    crop_fact,
    days,
    find_for,
    has_ended,
    is_partial,
    limit,
    number,
)
from shedbook.rules.measure import Reading, read

BOUNDS = ("at_least", "at_most", "better_at_least", "better_at_most")


@dataclass
class Moment:
    """When a value is judged: today, or at an event; `why` tells of the occasion."""

    ordinal: str
    day: int
    event: Event | None
    why: list[Reason]


def threshold(context: Context, rule: Rule) -> list[Finding]:
    """A finding for each moment at which the value breaks a limit, falls short or is missing."""
    planting = context.view["planting"]
    if has_happened(context, planting, rule["params"].get("only_before", [])):
        return []
    moments = _events(context, rule) if "at" in rule["params"] else _today(context, rule)
    found = [_judge(context, rule, moment) for moment in moments]
    return [made for made in found if made is not None]


def _events(context: Context, rule: Rule) -> list[Moment]:
    """The recent events that are judged; old ones teach nothing any more."""
    first = context.today - days(context, rule, "recent_days")
    return [
        Moment(
            event["id"],
            event["day"],
            event,
            [reason(f"did.{event['kind']}", happened_instant=event["instant"])],
        )
        for event in find_for(context, rule["params"]["at"], context.view["planting"])
        if event["day"] >= first
    ]


def _today(context: Context, rule: Rule) -> list[Moment]:
    planting, today = context.view["planting"], context.today
    if has_ended(planting, today):
        return []
    gate = rule["params"].get("gate")
    if gate is None:
        return [Moment("now", today, None, [])]
    planned = anchor_day(context, planting, gate["day_of"])
    if planned is None:
        return []
    field, day = planned
    if today < day - gate["before_days"] or today > day + gate["after_days"]:
        return []
    return [Moment("now", today, None, [reason(f"anchor.{field}", anchor_day=day)])]


def _bounds(context: Context, rule: Rule) -> dict[str, float]:
    """The limits that are known: the row's or the garden's own, else the crop's."""
    found: dict[str, float] = {}
    crop = context.view["planting"].get("crop")
    for name in BOUNDS:
        chosen = limit(context, rule, name)
        fact = rule["params"].get(f"{name}_of_crop")
        if chosen is None and fact is not None:
            chosen = number(crop_fact(context, crop, fact))
        if chosen is not None:
            found[name] = chosen
    return found


def _judge(context: Context, rule: Rule, moment: Moment) -> Finding | None:
    params = rule["params"]
    if key_prefix(context, rule) + moment.ordinal in context.declined:
        return None
    reading = read(context, params["value"], moment.day, moment.event)
    if "is_not" in params:
        return _judge_word(context, rule, moment, reading)
    bounds = _bounds(context, rule)
    if not bounds:
        return None
    value = number(reading.value)
    if value is None:
        return _unknown(context, rule, moment, _limits(rule, bounds))
    verdict = _verdict(value, bounds)
    if verdict is None:
        if "gate" not in params:
            return None
        state, word, values = "noted", "met", {"value": value}
    else:
        state, word, bound = verdict
        values = {"value": value, "limit": bounds[bound]}
    why = [reason(f"threshold.{reading.how}_{params['unit']}", value=value, **reading.told)]
    why += _limits(rule, bounds)
    made = _finding(context, rule, moment, state, values, why, reading)
    made["message"]["key"] = f"{rule.get('says', 'threshold')}.{word}_{params['unit']}"
    return made


def _verdict(value: float, bounds: dict[str, float]) -> tuple[str, str, str] | None:
    """The state, its word and the limit that decides; None when all are met."""
    if value < bounds.get("at_least", value):
        return "flagged", "low", "at_least"
    if value > bounds.get("at_most", value):
        return "flagged", "high", "at_most"
    if value < bounds.get("better_at_least", value):
        return "noted", "short", "better_at_least"
    if value > bounds.get("better_at_most", value):
        return "noted", "over", "better_at_most"
    return None


def _judge_word(context: Context, rule: Rule, moment: Moment, reading: Reading) -> Finding | None:
    """A choice, or yes and no, against those that it should not be."""
    word = reading.value
    if isinstance(word, bool):
        word = "yes" if word else "no"
    if not isinstance(word, str):
        return _unknown(context, rule, moment, [])
    if word not in rule["params"]["is_not"]:
        return None
    why = [reason(f"threshold.word_{reading.field}", **{reading.field: reading.value})]
    return _finding(context, rule, moment, "flagged", {}, why, reading)


def _limits(rule: Rule, bounds: dict[str, float]) -> list[Reason]:
    unit = rule["params"]["unit"]
    return [
        reason(f"threshold.{name}_{unit}", limit=bounds[name]) for name in BOUNDS if name in bounds
    ]


def _unknown(context: Context, rule: Rule, moment: Moment, limits: list[Reason]) -> Finding | None:
    if not rule["params"].get("asks"):
        return None
    why = [reason("threshold.missing"), *limits]
    nothing = Reading(None, "", "", {}, [])
    return _finding(context, rule, moment, "unknown", {}, why, nothing)


def _finding(
    context: Context,
    rule: Rule,
    moment: Moment,
    state: str,
    values: dict[str, Any],
    why: list[Reason],
    reading: Reading,
) -> Finding:
    notes = [reason(f"note.{name}") for name in rule["params"].get("notes", [])]
    change = "deciding" if moment.event is not None else _change(rule)
    reasons = [*moment.why, *why, *notes, reason(f"threshold.{change}")]
    proof = [] if moment.event is None else [moment.event]
    proof += [one for one in reading.proof if one["id"] not in {known["id"] for known in proof}]
    made = finding(context, rule, moment.ordinal, state, values, reasons, proof)
    if moment.event is not None and is_partial(moment.event):
        made["subject"]["plants"] = list(moment.event["plants"])
    return made


def _change(rule: Rule) -> str:
    """What would change today's answer."""
    return "measuring" if "of" in rule["params"]["value"] else "changing"
