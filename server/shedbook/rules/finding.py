"""How a finding is put together: keys and numbers, never prose."""

from collections.abc import Mapping, Sequence
from typing import Any

from shedbook.rules.match import Context, Event, Rule, days

HORIZON_DAYS = 14

Finding = dict[str, Any]
Reason = dict[str, Any]


def key_prefix(context: Context, rule: Rule) -> str:
    """What the keys of the rule's findings on this subject begin with."""
    kind = context.view["kind"]
    return f"{rule['id']}/{kind}:{context.view['subject'][kind]}/"


def reason(key: str, **values: Any) -> Reason:
    """One step of the arithmetic."""
    return {"key": key, "values": values}


def finding(
    context: Context,
    rule: Rule,
    ordinal: str,
    state: str,
    values: Mapping[str, Any],
    reasons: Sequence[Reason],
    events: Sequence[Event],
) -> Finding:
    """A finding with no window yet; `events` are those that prove it."""
    advises = rule.get("advises")
    advice = [] if advises is None else [reason(f"advice.{rule['id']}", **advises)]
    return {
        "key": key_prefix(context, rule) + ordinal,
        "rule": rule["id"],
        "subject": dict(context.view["subject"]),
        "state": state,
        "opens": None,
        "due": None,
        "closes": None,
        "from": None,
        "until": None,
        "entries": [event["id"] for event in events],
        "settles": rule.get("settles"),
        "message": {"key": f"{rule.get('says', rule['shape'])}.{state}", "values": dict(values)},
        "reasons": [*reasons, *advice],
    }


def day_finding(
    context: Context,
    rule: Rule,
    ordinal: str,
    due: int,
    reasons: Sequence[Reason],
    events: Sequence[Event],
) -> Finding | None:
    """A finding with a window of days, None while it is further off than the horizon."""
    opens = due - days(context, rule, "opens_before_days")
    closes = due + days(context, rule, "closes_after_days")
    today = context.today
    if opens - today > HORIZON_DAYS:
        return None
    state = "upcoming" if today < opens else "due" if today <= closes else "overdue"
    values = {"due_day": due}
    if state == "overdue":
        values["late_days"] = today - due
    elif state == "upcoming":
        values["ahead_days"] = due - today
    made = finding(context, rule, ordinal, state, values, reasons, events)
    return made | {"opens": opens, "due": due, "closes": closes}


def name_plants(made: Finding, plants: list[int], live: list[int]) -> None:
    """Say which plants it is about, unless it is about all that live."""
    if len(plants) < len(live):
        made["subject"]["plants"] = sorted(plants)
        made["reasons"].append(reason("only_plants", plants=sorted(plants)))
