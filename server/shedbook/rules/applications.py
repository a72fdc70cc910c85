"""How often, how soon and in what order a product is used on the same plants.

The label's own figures decide, as they were written down; where they were not, that is unknown.
Products that work in the same way count as one only where the group on the label was written down.
"""

from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from shedbook.rules.finding import Finding, Reason, finding, key_prefix, name_plants, reason
from shedbook.rules.match import (
    Context,
    Event,
    Rule,
    covers,
    days,
    find,
    live_plants,
    number,
    plant_groups,
    text,
)
from shedbook.rules.reach import is_on

DAY_S = 86_400


@dataclass
class Told:
    """One answer about some plants; the same answer about others adds its plants."""

    ordinal: str
    state: str
    values: dict[str, Any]
    why: list[Reason]
    proof: list[Event]
    plants: list[int] = field(default_factory=list)


def applications(context: Context, rule: Rule) -> list[Finding]:
    """The season's count, the days between two, or the same group in a row, as the row asks."""
    planting = context.view["planting"]
    done = [
        event
        for event in find(context, rule["params"]["of"])
        if "lifted" not in event and is_on(event, planting)
    ]
    live = live_plants(planting, context.today)
    told: dict[str, Told] = {}
    for plants in plant_groups(live, done):
        mine = [event for event in done if covers(context, event, plants[0])]
        for series in _series(rule, mine):
            for one in _answers(context, rule, series):
                told.setdefault(one.ordinal, one).plants.extend(plants)
    prefix = key_prefix(context, rule)
    return [
        _finding(context, rule, one, live)
        for one in told.values()
        if prefix + one.ordinal not in context.declined
    ]


def _series(rule: Rule, events: list[Event]) -> list[list[Event]]:
    """Events that count together: those alike in every field of `per`."""
    found: dict[str, list[Event]] = {}
    for event in events:
        named = [text(event["details"].get(one)) for one in rule["params"]["per"]]
        if all(one is not None for one in named):
            found.setdefault("\n".join(map(str, named)), []).append(event)
    return list(found.values())


def _answers(context: Context, rule: Rule, series: list[Event]) -> list[Told]:
    params = rule["params"]
    if "most_field" in params:
        return _count(rule, series)
    if "interval_field" in params:
        return _intervals(context, rule, series)
    return _run(context, rule, series)


def _last_written(series: list[Event], name: str) -> float | None:
    """The label's figure as it was written down last."""
    found = [number(event["details"].get(name)) for event in series]
    known = [one for one in found if one is not None and one >= 0]
    return known[-1] if known else None


def _count(rule: Rule, series: list[Event]) -> list[Told]:
    """How often it was used against how often the label allows."""
    most = _last_written(series, rule["params"]["most_field"])
    times, last = len(series), series[-1]
    values = {"times": times, "product": last["details"].get("product")}
    ordinal = f"{series[0]['id']}.{times}"
    if most is None:
        unknown = Told(ordinal, "unknown", values, [reason("applications.no_most")], series)
        return [unknown] if times > 1 else []
    values["most"] = most
    why = [reason("applications.most", most=most, times=times)]
    why += [reason("done.treat", done_day=event["day"]) for event in series]
    state = "flagged" if times > most else "noted"
    return [Told(ordinal, state, values, why, series)]


def _intervals(context: Context, rule: Rule, series: list[Event]) -> list[Told]:
    """Uses that came too soon after one another, and from when the next may come."""
    wait = _last_written(series, rule["params"]["interval_field"])
    last = series[-1]
    values = {"product": last["details"].get("product")}
    if wait is None:
        why = [reason("applications.no_interval")]
        unknown = Told(last["id"], "unknown", values, why, series[-2:])
        return [unknown] if len(series) > 1 else []
    found = [
        _too_soon(earlier, later, wait)
        for earlier, later in pairwise(series)
        if later["day"] - earlier["day"] < wait
        and context.today - later["day"] <= days(context, rule, "told_days")
    ]
    again = last["day"] + wait
    if context.today < again:
        values["again_day"] = again
        why = [reason("done.treat", done_day=last["day"])]
        why.append(reason("applications.interval", interval_days=wait, again_day=again))
        found.append(Told(last["id"], "noted", values, why, [last]))
    return found


def _too_soon(earlier: Event, later: Event, wait: float) -> Told:
    values = {
        "product": later["details"].get("product"),
        "done_day": later["day"],
        "again_day": earlier["day"] + wait,
    }
    why = [reason("done.treat", done_day=event["day"]) for event in (earlier, later)]
    why.append(reason("applications.interval", interval_days=wait, again_day=earlier["day"] + wait))
    return Told(f"{earlier['id']}.{later['id']}", "flagged", values, why, [earlier, later])


def _run(context: Context, rule: Rule, series: list[Event]) -> list[Told]:
    """The same way of working used again and again, with no other between."""
    same = rule["params"]["same"]
    known = [event for event in series if text(event["details"].get(same)) is not None]
    if not known or context.today - known[-1]["day"] > days(context, rule, "told_days"):
        return []
    last = known[-1]
    start = len(known) - 1
    while start > 0 and known[start - 1]["details"][same] == last["details"][same]:
        start -= 1
    run = known[start:]
    if len(run) <= days(context, rule, "most_in_row"):
        return []
    values = {"times": len(run), "group": last["details"][same]}
    values["action_scheme"] = last["details"].get("action_scheme")
    why = [reason("done.treat", done_day=event["day"]) for event in run]
    why.append(reason("applications.change"))
    return [Told(last["id"], "flagged", values, why, run)]


def _finding(context: Context, rule: Rule, one: Told, live: list[int]) -> Finding:
    made = finding(context, rule, one.ordinal, one.state, one.values, one.why, one.proof)
    name_plants(made, one.plants, live)
    return made
