"""Years between a trouble of the soil that was seen in a bed and the next crop it lives on."""

from typing import Any

from shedbook.log.moment import add_years
from shedbook.rules.finding import Finding, Reason, finding, key_prefix, reason
from shedbook.rules.hosts import (
    advice,
    hosts_of,
    is_host,
    last_host,
    troubles_seen,
    years_apart,
)
from shedbook.rules.match import (
    Context,
    Event,
    Planting,
    Rule,
    days,
    family_of,
    has_ended,
)
from shedbook.rules.timing import start_day


def soil_rest(context: Context, rule: Rule) -> list[Finding]:
    """For a host, a flag while the years run and a note afterwards; never that it is over."""
    planting = context.view["planting"]
    start = start_day(planting)
    if start is None or context.view["bed"] is None or has_ended(planting, context.today):
        return []
    found = []
    for trouble, events in sorted(troubles_seen(context).items()):
        seen = [
            event
            for event in events
            if event["day"] <= start and event.get("planting") != planting["id"]
        ]
        if seen and key_prefix(context, rule) + trouble not in context.declined:
            found += _of_trouble(context, rule, trouble, seen, start)
    return found


def _of_trouble(
    context: Context, rule: Rule, trouble: str, seen: list[Event], start: int
) -> list[Finding]:
    planting = context.view["planting"]
    values: dict[str, Any] = {"trouble": trouble, "crop": planting.get("crop"), "start_day": start}
    last = seen[-1]
    why = [reason("soil.seen", trouble=trouble, seen_day=last["day"], kind=last["kind"])]
    proof = [last, planting]
    if not is_host(context, planting, trouble):
        if family_of(context, planting) is not None:
            return []
        why.append(reason("rest.no_family"))
        return [finding(context, rule, trouble, "unknown", values, why, proof)]
    years = years_apart(context, rule, trouble)
    if years is None:
        why += [*advice(context, rule, trouble), reason("soil.set_years")]
        return [finding(context, rule, trouble, "unknown", values, why, proof)]
    since, by = last_host(context, trouble, seen, _earlier(context, rule, start))
    values |= {"since_day": since, "years": years}
    if by is not None:
        proof.append(by)
        why.append(_grown(by, trouble))
    if by is not None and by.get("until_day") is None:
        why += [*advice(context, rule, trouble), reason("soil.change")]
        return [_told(context, rule, trouble, "flagged", "stands", values, why, proof)]
    values["free_day"] = add_years(since, years)
    why.append(reason("soil.counted", **values))
    why += advice(context, rule, trouble)
    if start < values["free_day"]:
        why.append(reason("soil.change"))
        return [_told(context, rule, trouble, "flagged", "flagged", values, why, proof)]
    made = _told(context, rule, trouble, "noted", "passed", values, why, proof)
    return [made | {"settles": None}]


def _told(
    context: Context,
    rule: Rule,
    trouble: str,
    state: str,
    says: str,
    values: dict[str, Any],
    why: list[Reason],
    proof: list[Event],
) -> Finding:
    made = finding(context, rule, trouble, state, values, why, proof)
    made["message"]["key"] = f"soil.{says}"
    return made


def _earlier(context: Context, rule: Rule, start: int) -> list[Planting]:
    """Plantings of earlier seasons, or of this one when they were out before."""
    season = days(context, rule, "same_season_days")
    return [
        one
        for one in context.view["residents"]
        if one["id"] != context.view["planting"]["id"]
        and one.get("from_day") is not None
        and (one["from_day"] < start - season or one.get("until_day", start + 1) <= start)
    ]


def _grown(by: Planting, trouble: str) -> Reason:
    until = by.get("until_day")
    if until is None:
        return reason("soil.host_stands", other_planting=by["id"], trouble=trouble)
    return reason("soil.host_stood", other_planting=by["id"], trouble=trouble, until_day=until)


def shared_hosts(context: Context, rule: Rule) -> list[Finding]:
    """A note for each earlier planting of another family that shares a trouble of the soil."""
    planting = context.view["planting"]
    start = start_day(planting)
    if start is None or context.view["bed"] is None or has_ended(planting, context.today):
        return []
    found = []
    for other in _earlier(context, rule, start):
        family = family_of(context, other)
        if family is None or family == family_of(context, planting):
            continue
        until = other.get("until_day")
        shared = [
            trouble
            for trouble in sorted(hosts_of(context))
            if is_host(context, planting, trouble)
            and is_host(context, other, trouble)
            and trouble not in troubles_seen(context)
            and _within_years(context, rule, trouble, until, start)
        ]
        if shared and key_prefix(context, rule) + other["id"] not in context.declined:
            found.append(_shared(context, rule, other, shared, start))
    return found


def _within_years(
    context: Context, rule: Rule, trouble: str, until: int | None, start: int
) -> bool:
    years = years_apart(context, rule, trouble)
    return years is not None and (until is None or add_years(until, years) > start)


def _shared(
    context: Context, rule: Rule, other: Planting, shared: list[str], start: int
) -> Finding:
    planting = context.view["planting"]
    values = {
        "crop": planting.get("crop"),
        "other_planting": other["id"],
        "troubles": shared,
        "start_day": start,
    }
    why = [
        reason(
            "shared.years",
            trouble=trouble,
            years=years_apart(context, rule, trouble),
            source=hosts_of(context)[trouble]["host_sources"][0],
        )
        for trouble in shared
    ]
    why.append(reason("shared.not_seen"))
    made = finding(context, rule, other["id"], "noted", values, why, [planting, other])
    return made | {"settles": None}
