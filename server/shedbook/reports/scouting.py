"""What was looked for over the season, round by round: shares, hot spots, how disease went on."""

from collections.abc import Mapping, Sequence
from typing import Any

from shedbook.agronomy.disease_progress import area_under_progress, relative_area
from shedbook.agronomy.dispersion import (
    chi_square_above,
    dispersion_chi_square,
    variance_to_mean,
)
from shedbook.agronomy.errors import AgronomyError
from shedbook.agronomy.proportion import wilson_interval
from shedbook.log.ledger import Ledger
from shedbook.log.view import view_of_planting
from shedbook.reports.hot_spots import hot_spot
from shedbook.reports.traps import catches_by_week
from shedbook.rules.match import Context, Json, Rule, context_of, find_for
from shedbook.rules.organisms import is_helpful, plant_limit
from shedbook.rules.scout_answer import all_plants, answer_of
from shedbook.rules.scouting import by_organism
from shedbook.rules.sessions import Session, read_session, split_sessions


def scouting_report(
    ledger: Ledger,
    rulebook: Json,
    today: int,
    now: int,
    bed: str | None = None,
    organism: str | None = None,
) -> dict[str, Any]:
    """Every organism looked for on every planting, and the catches of every trap."""
    rule = next(one for one in rulebook["rules"] if one["id"] == "scouting")
    plantings = [
        planting
        for planting in ledger.plantings()
        if not planting["hidden"] and bed in (None, planting.get("bed"))
    ]
    looked = [
        told
        for planting in plantings
        for told in _of_planting(ledger, rulebook, rule, planting, today, now)
        if organism in (None, told["organism"])
    ]
    catches = [
        caught
        for caught in catches_by_week(ledger, now)
        if organism in (None, caught["organism"]) and bed in (None, caught["bed"])
    ]
    return {"today": today, "looked": looked, "catches": catches}


def _of_planting(
    ledger: Ledger, rulebook: Json, rule: Rule, planting: Json, today: int, now: int
) -> list[dict[str, Any]]:
    view = view_of_planting(ledger, planting["id"])
    if view is None:
        return []
    context = context_of(view, rulebook, today, now)
    groups = by_organism(find_for(context, {"kind": "scout"}, planting))
    return [_of_organism(context, rule, planting, name, groups[name]) for name in sorted(groups)]


def _of_organism(
    context: Context, rule: Rule, planting: Json, name: str, events: list[Any]
) -> dict[str, Any]:
    sessions = [read_session(one) for one in split_sessions(events)]
    return {
        "bed": planting.get("bed"),
        "planting": planting["id"],
        "organism": name,
        "is_helpful": is_helpful(context, events[0]),
        "sessions": [_round(context, rule, planting, name, session) for session in sessions],
        "progress": _progress(sessions),
    }


def _round(
    context: Context, rule: Rule, planting: Json, name: str, session: Session
) -> dict[str, Any]:
    """One round with its share, its decision and its hot spot; None where it is not known."""
    day = session.events[-1]["day"]
    low, high = (
        wilson_interval(session.affected, session.looked) if session.has_share else (None, None)
    )
    return {
        "day": day,
        "looked": session.looked if session.has_share else None,
        "affected": session.affected if session.has_share else None,
        "affected_share": session.affected / session.looked if session.has_share else None,
        "low_share": low,
        "high_share": high,
        "mean": session.mean,
        "per": session.per,
        "decision": _decision(context, rule, planting, name, session),
        "clumping": _clumping(session.counts),
        "hot_spot": hot_spot(planting, session, day),
    }


def _decision(context: Context, rule: Rule, planting: Json, name: str, session: Session) -> str:
    if is_helpful(context, session.events[0]):
        return "helper"
    threshold = plant_limit(context, planting, name)
    plants = all_plants(context, planting)
    try:
        return answer_of(context, rule, session, threshold, plants)[0]
    except AgronomyError:
        return "odd_plan"


def _clumping(counts: Sequence[float]) -> dict[str, Any] | None:
    """Variance to mean of the counts, and how often chance alone gives as much."""
    try:
        ratio = variance_to_mean(counts)
    except AgronomyError:
        return None
    chance = chi_square_above(dispersion_chi_square(ratio, len(counts)), len(counts) - 1)
    return {"ratio": ratio, "chance": chance, "units": len(counts)}


def _progress(sessions: list[Session]) -> Mapping[str, Any] | None:
    """The area under the shares over the days, None for fewer than two days with a share."""
    seen = {
        session.events[-1]["day"]: session.affected / session.looked
        for session in sessions
        if session.has_share
    }
    days = sorted(seen)
    if len(days) < 2:
        return None
    shares = [seen[day] for day in days]
    return {
        "from_day": days[0],
        "until_day": days[-1],
        "area": area_under_progress(days, shares) * 100,
        "relative_share": relative_area(days, shares, 1),
    }
