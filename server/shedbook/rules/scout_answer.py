"""What a round of looking decides: above its threshold, below it, or open until more is counted."""

import math
from typing import Any

from shedbook.agronomy.sequential import clean_until_below, decision, lines_about
from shedbook.rules.finding import Reason, reason
from shedbook.rules.match import UNCOUNTED, Context, Planting, Rule, limit, live_plants
from shedbook.rules.organisms import is_rare
from shedbook.rules.sessions import Session


def all_plants(context: Context, planting: Planting) -> int | None:
    """How many plants there are to look at, None when they were never counted."""
    live = live_plants(planting, context.today)
    return None if live == [UNCOUNTED] else len(live)


def is_all(session: Session, plants: int | None) -> bool:
    return plants is not None and session.looked >= plants


def is_none(session: Session) -> bool:
    """Did every look of the round say outright that there was none?"""
    return all(event["details"].get("grade") == "none" for event in session.events)


def answer_of(
    context: Context, rule: Rule, session: Session, threshold: dict[str, Any], plants: int | None
) -> tuple[str, list[Reason]]:
    """Above, below or open, said for the measure; and why."""
    if threshold["limit"] is None:
        if not session.has_share:
            return ("none_told" if is_none(session) else "no_limit"), []
        # Nothing seen is nothing to hold against a threshold; a disease is told, and not counted.
        if session.affected == 0:
            return "none_found", []
        return ("disease_found" if threshold["is_disease"] else "no_limit"), []
    if threshold["measure"] == "share":
        return _by_share(context, rule, session, threshold["limit"], plants)
    return _by_mean(context, rule, session, threshold, plants)


def _by_share(
    context: Context, rule: Rule, session: Session, threshold: float, plants: int | None
) -> tuple[str, list[Reason]]:
    if not session.has_share:
        return "no_count", [reason("scouting.count_plants")]
    affected, looked = session.affected, session.looked
    if is_all(session, plants):
        side = "above" if affected / looked >= threshold else "below"
        return f"share_{side}", [reason("scouting.all_plants")]
    if not 0 < threshold < 1:
        side = "above" if affected / looked >= threshold else "below"
        return f"share_{side}", []
    risks = [limit(context, rule, param) or 0 for param in ("band", "alpha", "beta")]
    lines = lines_about(threshold, *risks)
    most = limit(context, rule, "most_looked") or 1
    side = decision(affected, looked, threshold, lines, most)
    if looked >= most:
        return f"share_{side}", [reason("scouting.most_looked", most=most)]
    act_from = -math.floor(-(lines.slope * looked + lines.high))
    leave_at = math.floor(lines.slope * looked + lines.low)
    why = [reason("scouting.upper_line", looked=looked, act_from=act_from)]
    if leave_at >= 0:
        why.append(reason("scouting.lower_line", looked=looked, leave_at=leave_at))
    if side != "not_decided":
        return f"share_{side}", why
    more = min(clean_until_below(affected, looked, lines), most - looked)
    if plants is not None:
        more = min(more, plants - looked)
    return "share_open", [*why, reason("scouting.look_on", more=more)]


def _by_mean(
    context: Context, rule: Rule, session: Session, threshold: dict[str, Any], plants: int | None
) -> tuple[str, list[Reason]]:
    if session.mean is None:
        return "no_count", [reason("scouting.count_units", per_what=threshold["per"])]
    if session.per != threshold["per"]:
        return "other_unit", [reason("scouting.count_units", per_what=threshold["per"])]
    needed = limit(context, rule, "fewest_units") or 1
    if session.per == "plant" and plants is not None:
        needed = min(needed, plants)
    if session.units < needed:
        more = needed - session.units
        return "mean_open", [reason("scouting.more_units", more=more, per_what=session.per)]
    side = "above" if session.mean >= threshold["limit"] else "below"
    return ("rare_" if is_rare(threshold) else "mean_") + side, []
