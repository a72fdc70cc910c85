"""The rules on one subject: a pure function of its view, the rulebook, the day and the moment."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from shedbook.rules.applications import applications
from shedbook.rules.balance import balance
from shedbook.rules.beside import beside
from shedbook.rules.budget import budget
from shedbook.rules.evenness import evenness
from shedbook.rules.film import film
from shedbook.rules.finding import Finding
from shedbook.rules.follow import follow
from shedbook.rules.gap import gap, give_way
from shedbook.rules.keeping import keeping
from shedbook.rules.ladder import ladder
from shedbook.rules.match import (
    UNCOUNTED,
    Context,
    Json,
    Rule,
    applies,
    context_of,
    live_plants,
)
from shedbook.rules.near import near
from shedbook.rules.nights import nights
from shedbook.rules.once_after import once_after
from shedbook.rules.progress import progress
from shedbook.rules.repeat_every import repeat_every
from shedbook.rules.rest import rest
from shedbook.rules.scouting import scouting
from shedbook.rules.soil_spots import soil_spots
from shedbook.rules.threshold import threshold
from shedbook.rules.uniformity import uniformity
from shedbook.rules.withhold import running_spans, withhold

SHAPES: Mapping[str, Callable[[Context, Rule], list[Finding]]] = {
    "once_after": once_after,
    "repeat_every": repeat_every,
    "withhold": withhold,
    "gap": gap,
    "evenness": evenness,
    "rest": rest,
    "beside": beside,
    "balance": balance,
    "uniformity": uniformity,
    "follow": follow,
    "film": film,
    "soil_spots": soil_spots,
    "scouting": scouting,
    "threshold": threshold,
    "ladder": ladder,
    "keeping": keeping,
    "near": near,
    "budget": budget,
    "applications": applications,
    "progress": progress,
    "nights": nights,
}


def evaluate(view: Json, rulebook: Json, today: int, now: int) -> list[Finding]:
    """All findings of the view's subject, sorted by key; a shape not known here is passed over."""
    subject = view["planting"] if view["kind"] == "planting" else view["bed"]
    if subject is None:
        return []
    context = context_of(view, rulebook, today, now)
    if subject.get("hidden"):
        return _of_the_hidden(context)
    found = [
        made
        for rule in rulebook["rules"]
        if rule["shape"] in SHAPES and applies(context, rule)
        for made in SHAPES[rule["shape"]](context, rule)
    ]
    give_way(found, rulebook)
    held = [made for made in found if made["state"] == "blocked" and "blocks" in made]
    held += _of_the_bed(context)
    for made in found:
        _hold_back(context, made, held)
    return sorted(found, key=lambda made: made["key"])


def _of_the_hidden(context: Context) -> list[Finding]:
    """A planting that was taken back may stand in its bed all the same: what withholds, stays."""
    if "planting" not in context.view["subject"] or "bed" not in context.view["subject"]:
        return []
    found = [
        made
        for rule in context.rulebook["rules"]
        if rule["shape"] == "withhold" and applies(context, rule)
        for made in withhold(context, rule)
    ]
    return sorted((made for made in found if "blocks" in made), key=lambda made: made["key"])


def _of_the_bed(context: Context) -> list[Finding]:
    """What withholds work in the whole bed of a planting; shown with the bed, felt here."""
    view = context.view
    if view["kind"] != "planting" or view["bed"] is None:
        return []
    as_bed = {**view, "kind": "bed", "subject": {"bed": view["bed"]["id"]}, "planting": None}
    bed_context = replace(context, view=as_bed)
    return [
        made
        for rule in context.rulebook["rules"]
        if rule["shape"] == "withhold" and applies(bed_context, rule)
        for made in running_spans(bed_context, rule)
    ]


def _hold_back(context: Context, made: Finding, held: list[Finding]) -> None:
    """Work that is due becomes blocked while every plant of it is withheld."""
    if made["state"] not in ("due", "overdue") or made["settles"] is None:
        return
    against = [one for one in held if made["settles"]["kind"] in one["blocks"]]
    if not against:
        return
    planting = context.view["planting"]
    live = [UNCOUNTED] if planting is None else live_plants(planting, context.today)
    limits = [(one, frozenset(one["subject"].get("plants", ()))) for one in against]
    last_ends = [_last_end(plant, limits) for plant in made["subject"].get("plants", live)]
    ends = [end for end in last_ends if end is not None]
    if not ends or len(ends) < len(last_ends):
        return
    until, key = min(ends)
    made["was"] = made["state"]
    made["state"] = "blocked"
    made["until"] = until
    made["blocked_by"] = key
    made["message"] = {
        "key": "held.blocked",
        "values": made["message"]["values"] | {"until_instant": until},
    }


def _last_end(plant: int, against: list[tuple[Finding, frozenset[int]]]) -> tuple[int, str] | None:
    """When the plant is no longer withheld, and by which finding; None if it is not."""
    ends = [
        (one["until"], one["key"])
        for one, named in against
        if "plants" not in one["subject"] or plant in named
    ]
    return max(ends, default=None)
