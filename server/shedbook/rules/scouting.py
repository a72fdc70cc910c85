"""What the latest round of looking at plants, or a trap, says against its action threshold."""

from typing import Any

from shedbook.agronomy.errors import AgronomyError
from shedbook.agronomy.proportion import wilson_interval
from shedbook.rules.finding import Finding, Reason, finding, key_prefix, reason
from shedbook.rules.match import (
    Context,
    Event,
    Planting,
    Rule,
    days,
    find_for,
    has_ended,
    text,
)
from shedbook.rules.near_removed import near_removed
from shedbook.rules.organisms import is_helpful, limit_reasons, limit_values, plant_limit
from shedbook.rules.scout_answer import all_plants, answer_of, is_all
from shedbook.rules.sessions import Session, read_session, split_sessions
from shedbook.rules.trap_catch import trap_catch

# What an answer asks of the grower.
STATES = {"above": "due", "below": "noted", "open": "unknown", "found": "noted", "told": "noted"}


def scouting(context: Context, rule: Rule) -> list[Finding]:
    """A finding for each organism looked for, each trap that was read, or each removal."""
    planting = context.view["planting"]
    if has_ended(planting, context.today):
        return []
    watches = rule["params"]["watches"]
    if watches != "scout":
        return trap_catch(context, rule) if watches == "trap_read" else near_removed(context, rule)
    latest = _latest_rounds(context, rule, planting)
    helpers = [name for name, events in latest.items() if is_helpful(context, events[0])]
    found = []
    for name, events in latest.items():
        ordinal = events[0]["id"]
        if key_prefix(context, rule) + ordinal in context.declined:
            continue
        session = read_session(events)
        if name in helpers:
            found.append(_of_helper(context, rule, name, session))
        else:
            found.append(_of_pest(context, rule, planting, name, session, helpers))
    return found


def by_organism(events: list[Event]) -> dict[str, list[Event]]:
    """The events in groups of what they are about, in the order given."""
    groups: dict[str, list[Event]] = {}
    for event in events:
        name = text(event["details"].get("organism"))
        if name:
            groups.setdefault(name, []).append(event)
    return groups


def _latest_rounds(context: Context, rule: Rule, planting: Planting) -> dict[str, list[Event]]:
    """The latest round for each organism, while it is recent enough to go by."""
    since = context.today - days(context, rule, "window_days")
    events = find_for(context, {"kind": "scout"}, planting)
    rounds = {name: split_sessions(of)[-1] for name, of in by_organism(events).items()}
    return {name: events for name, events in rounds.items() if events[-1]["day"] >= since}


def _of_helper(context: Context, rule: Rule, name: str, session: Session) -> Finding:
    values = _counted(name, session)
    made = finding(context, rule, session.events[0]["id"], "noted", values, [], session.events)
    return _say(rule, made, "helper", [_looked_on(session)])


def _of_pest(
    context: Context,
    rule: Rule,
    planting: Planting,
    name: str,
    session: Session,
    helpers: list[str],
) -> Finding:
    threshold = plant_limit(context, planting, name)
    values = _counted(name, session) | limit_values(threshold)
    plants = all_plants(context, planting)
    try:
        answer, why = answer_of(context, rule, session, threshold, plants)
    except AgronomyError:
        answer, why = "odd_plan", []
    state = STATES.get(answer.rpartition("_")[2], "unknown")
    made = finding(context, rule, session.events[0]["id"], state, values, [], session.events)
    reasons = [_looked_on(session), *_figures(session, plants)]
    reasons += [*limit_reasons(planting, threshold), *why]
    if helpers:
        reasons.append(reason("scouting.helpers", organisms=helpers))
    if state == "due":
        reasons.append(reason("scouting.before_acting"))
    return _say(rule, made, answer, reasons)


def _say(rule: Rule, made: Finding, answer: str, reasons: list[Reason]) -> Finding:
    """The same state is said in other words for a share, a count and a helper."""
    made["message"]["key"] = f"{rule.get('says', rule['shape'])}.{answer}"
    made["reasons"] = reasons
    return made


def _looked_on(session: Session) -> Reason:
    return reason("done.scout", done_day=session.events[-1]["day"])


def _counted(name: str, session: Session) -> dict[str, Any]:
    """The figures of a round; those that are not known are left out."""
    values: dict[str, Any] = {"organism": name}
    if session.has_share:
        low, high = wilson_interval(session.affected, session.looked)
        values |= {
            "looked": session.looked,
            "affected": session.affected,
            "affected_share": session.affected / session.looked,
            "low_share": low,
            "high_share": high,
        }
    if session.mean is not None:
        values |= {"mean": session.mean, "per_hundred": session.mean * 100}
    return values


def _figures(session: Session, plants: int | None) -> list[Reason]:
    """The arithmetic of a round: the share with its interval, the mean, how counts lie."""
    values = _counted("", session)
    made = []
    if session.has_share:
        names = ("looked", "affected", "affected_share", "low_share", "high_share")
        key = "scouting.share_all" if is_all(session, plants) else "scouting.share"
        made.append(reason(key, **{name: values[name] for name in names}))
    if session.mean is not None:
        made.append(
            reason(
                "scouting.mean",
                total=session.total,
                units=session.units,
                mean=session.mean,
                per_what=session.per,
            )
        )
    ratio = _ratio(session.counts)
    if ratio is not None:
        made.append(
            reason("scouting.clumped" if ratio > 1 else "scouting.not_clumped", ratio=ratio)
        )
    return made


def _ratio(counts: list[float]) -> float | None:
    """Variance to mean of the counts, None for fewer than two or nothing found."""
    total = 0.0
    for count in counts:
        total += count
    if len(counts) < 2 or total == 0:
        return None
    mean = total / len(counts)
    squares = 0.0
    for count in counts:
        squares += (count - mean) * (count - mean)
    return squares / (len(counts) - 1) / mean
