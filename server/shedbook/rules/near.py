"""Work that is judged by what happened around it: rain after it, heat that day, bloom before it.

A row says whether what lies near tells against the work, or is wanted before it. Where the log has
nothing to judge by, that is unknown.
"""

from shedbook.rules.finding import Finding, Reason, finding, key_prefix, reason
from shedbook.rules.match import Context, Event, Json, Rule, days, find, holds, limit, number
from shedbook.rules.reach import is_on

HOUR_S = 3_600


def near(context: Context, rule: Rule) -> list[Finding]:
    """One finding for each piece of work that something lies too near to, or too far from."""
    found = []
    for event in find(context, rule["params"]["of"]):
        is_old = context.today - event["day"] > days(context, rule, "told_days")
        if is_old or "lifted" in event or not is_on(event, context.view["planting"]):
            continue
        if key_prefix(context, rule) + event["id"] in context.declined:
            continue
        made = _judged(context, rule, event)
        if made is not None:
            found.append(made)
    return found


def _judged(context: Context, rule: Rule, event: Event) -> Finding | None:
    params = rule["params"]
    hours = _hours_after(context, rule, event)
    around = _around(context, rule, event, hours)
    told = [one for one in around if _tells(rule, one)]
    why: list[Reason] = []
    if hours is not None and "after_field" in params:
        why.append(reason(f"{rule['says']}.label", label_hours=hours))
    if params.get("wanted"):
        is_met = bool(told) or not _is_over(context, rule, event, hours or 0)
        return None if is_met else _finding(context, rule, event, "flagged", why, [])
    if told and hours is None:
        why.append(reason(f"{rule['says']}.no_label"))
        return _finding(context, rule, event, "unknown", why, told)
    if told:
        return _finding(context, rule, event, "flagged", why, told)
    if params.get("else_unknown") and not any(_can_tell(rule, one) for one in around):
        return _finding(context, rule, event, "unknown", [reason(f"{rule['says']}.nothing")], [])
    return None


def _is_over(context: Context, rule: Rule, event: Event, hours: float) -> bool:
    """Has the time passed in which what is wanted could still be done?"""
    if "same_day" in rule["params"]:
        return bool(context.today > event["day"])
    return bool(context.now >= event["instant"] + hours * HOUR_S)


def _hours_after(context: Context, rule: Rule, event: Event) -> float | None:
    """How long after the work still counts; None where the label's figure is not written down."""
    field = rule["params"].get("after_field")
    if field is None:
        return limit(context, rule, "after_hours") or 0
    hours = number(event["details"].get(field))
    return hours if hours is not None and hours >= 0 else None


def _around(context: Context, rule: Rule, event: Event, hours: float | None) -> list[Event]:
    """Everything of the kinds asked for that lies within the row's time of the work."""
    after = limit(context, rule, "unknown_hours") or 0 if hours is None else hours
    first = event["instant"] - (limit(context, rule, "before_hours") or 0) * HOUR_S
    last = event["instant"] + after * HOUR_S
    is_same_day = "same_day" in rule["params"]
    return [
        one
        for kind in dict.fromkeys(one["kind"] for one in rule["params"]["near"])
        for one in context.by_kind.get(kind, [])
        if (one["day"] == event["day"] if is_same_day else first <= one["instant"] <= last)
        and one["id"] != event["id"]
        and is_on(one, context.view["planting"])
    ]


def _tells(rule: Rule, one: Event) -> bool:
    return any(
        near["kind"] == one["kind"] and holds(near.get("where", []), one["details"])
        for near in rule["params"]["near"]
    )


def _can_tell(rule: Rule, one: Event) -> bool:
    """Does it carry a figure that the row asks for, whatever the figure says?"""
    return any(
        near["kind"] == one["kind"] and one["details"].get(test["field"]) is not None
        for near in rule["params"]["near"]
        for test in near.get("where", [])
    )


def _finding(
    context: Context, rule: Rule, event: Event, state: str, why: list[Reason], told: list[Event]
) -> Finding:
    did = reason(f"did.{event['kind']}", happened_instant=event["instant"])
    seen = [
        reason(
            f"{rule['says']}.{one['kind']}", happened_instant=one["instant"], **_sizes(rule, one)
        )
        for one in told
    ]
    values = {"happened_instant": event["instant"]}
    reasons = [did, *seen, *why]
    made = finding(context, rule, event["id"], state, values, reasons, [event, *told])
    if "plants" in event and event.get("planting") == context.view["planting"]["id"]:
        made["subject"]["plants"] = list(event["plants"])
    return made


def _sizes(rule: Rule, one: Event) -> Json:
    """The numbers that the row looked at."""
    fields = [
        test["field"]
        for near in rule["params"]["near"]
        if near["kind"] == one["kind"]
        for test in near.get("where", [])
    ]
    return {
        field: number(one["details"].get(field))
        for field in fields
        if number(one["details"].get(field)) is not None
    }
