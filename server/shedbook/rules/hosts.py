"""Troubles that stay in the soil: which were seen in a bed, whom they live on, and for how long.

The rulebook's `hosts` say both; what is not among them is not taken for a trouble of the soil.
"""

import math
from typing import Any

from shedbook.rules.finding import Reason, reason
from shedbook.rules.match import (
    Context,
    Event,
    Json,
    Planting,
    Rule,
    family_of,
    limit,
    number,
    text,
    time_of,
)

MOST_YEARS = 100
# The kinds that name a trouble, and in which field.
TOLD_BY = (
    ("spot", "trouble"),
    ("scout", "organism"),
    ("inspect", "trouble"),
    ("signs", "suspected"),
)


def hosts_of(context: Context) -> Json:
    """What the rulebook says of every trouble that stays in the soil."""
    known: Json = context.rulebook.get("hosts", {})
    return known


def troubles_seen(context: Context) -> dict[str, list[Event]]:
    """The entries that tell of each trouble in this bed, earliest first, by the trouble's id."""
    seen: dict[str, list[Event]] | None = context.known.get("troubles_seen")
    if seen is not None:
        return seen
    seen = context.known["troubles_seen"] = {}
    stood = {one["id"]: one.get("from_day") for one in context.view["residents"]}
    for kind, field in TOLD_BY:
        for event in context.by_kind.get(kind, []):
            trouble = text(event["details"].get(field))
            if trouble is None or trouble not in hosts_of(context):
                continue
            if _is_here(context, stood, event) and _found(event):
                seen.setdefault(trouble, []).append(event)
    for events in seen.values():
        events.sort(key=time_of)
    return seen


def _is_here(context: Context, stood: dict[str, int | None], event: Event) -> bool:
    """What was seen on plants in a tray did not come from the bed that waits for them."""
    bed = context.view["bed"]
    if bed is None or event.get("bed") != bed["id"]:
        return False
    planting = event.get("planting")
    if planting not in stood:
        return True
    since = stood[planting]
    return since is not None and since <= event["day"]


def _found(event: Event) -> bool:
    """A look that found nothing tells of no trouble."""
    details = event["details"]
    if event["kind"] == "inspect":
        return bool(details.get("result") == "suspect")
    if event["kind"] != "scout":
        return True
    counted = [number(details.get(field)) or 0 for field in ("plants_affected", "count")]
    return details.get("grade") in ("few", "some", "many") or max(counted) > 0


def is_host(context: Context, planting: Planting, trouble: str) -> bool:
    """Does the trouble live on this crop?"""
    row = hosts_of(context)[trouble]
    crop = text(planting.get("crop"))
    family = family_of(context, planting)
    return crop in row.get("crops", []) or family in row.get("families", [])


def years_apart(context: Context, rule: Rule, trouble: str) -> int | None:
    """The garden's own number of years, else the longest that a source advises."""
    chosen = limit(context, rule, f"{trouble}_years")
    if chosen is not None:
        return min(math.floor(chosen), MOST_YEARS)
    advised = [advice["years"] for advice in hosts_of(context)[trouble]["years"]]
    return max(advised, default=None)


def advice(context: Context, rule: Rule, trouble: str) -> list[Reason]:
    """What each source says of the years, and what is known of how it lasts."""
    row = hosts_of(context)[trouble]
    told: list[Reason] = []
    chosen = limit(context, rule, f"{trouble}_years")
    if chosen is not None:
        told.append(reason("soil.own_years", years=math.floor(chosen)))
    told += [_advised(one) for one in row["years"]]
    if not row["years"]:
        told.append(reason("soil.no_years", source=row["host_sources"][0]))
    if "survives_years" in row:
        years, source = row["survives_years"], row["survives_source"]
        told.append(reason("soil.survives", years=years, source=source))
    if "persists" in row:
        told.append(reason(f"soil.persists.{row['persists']}"))
    return told


def _advised(one: Json) -> Reason:
    values: dict[str, Any] = {"years": one["years"], "source": one["source"]}
    key = "soil.advised"
    if "years_from" in one:
        key, values["years_from"] = "soil.advised_span", one["years_from"]
    elif "crops" in one:
        key, values["crops"] = "soil.advised_for", one["crops"]
    return reason(key, **values)


def last_host(
    context: Context, trouble: str, seen: list[Event], hosts: list[Planting]
) -> tuple[int, Planting | None]:
    """The day from which the years count, and the planting that set it, if one did.

    `hosts` are plantings to look at; one that still stands, or went in after the trouble was first
    seen, moves the day. Absent `until_day` in the answer's planting means that it still stands.
    """
    since, by = seen[-1]["day"], None
    for one in hosts:
        until = one.get("until_day")
        if not is_host(context, one, trouble):
            continue
        if until is None:
            return since, one
        if until >= seen[0]["day"] and until > since:
            since, by = until, one
    return since, by
