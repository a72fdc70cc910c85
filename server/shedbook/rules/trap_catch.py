"""The catch of a trap a night, against the catch from which to act."""

from typing import Any

from shedbook.rules.finding import Finding, Reason, finding, key_prefix, reason
from shedbook.rules.match import Context, Event, Planting, Rule, days, find_for, number, text
from shedbook.rules.organisms import catch_limit

NIGHTS_A_WEEK = 7


def trap_catch(context: Context, rule: Rule) -> list[Finding]:
    """One finding for each organism in each trap that was read lately."""
    planting = context.view["planting"]
    since = context.today - days(context, rule, "window_days")
    groups: dict[tuple[str, str], list[Event]] = {}
    for event in find_for(context, {"kind": "trap_read"}, planting):
        trap = text(event["details"].get("trap")) or ""
        name = text(event["details"].get("organism")) or ""
        groups.setdefault((trap, name), []).append(event)
    found = []
    for (trap, name), readings in groups.items():
        is_told = key_prefix(context, rule) + readings[-1]["id"] in context.declined
        if not name or readings[-1]["day"] < since or is_told:
            continue
        made = _finding(context, rule, planting, trap, name, readings)
        # A trap of the whole garden is only told of where a threshold is known.
        if _is_placed(readings[-1]) or "limit_a_night" in made["message"]["values"]:
            found.append(made)
    return found


def nights_of(readings: list[Event], at: int, hung: list[Event]) -> float | None:
    """The nights of a reading: as logged, else since the trap was hung or read before."""
    logged = number(readings[at]["details"].get("nights"))
    if logged is not None:
        return logged if logged > 0 else None
    day = readings[at]["day"]
    before = [one["day"] for one in [*readings[:at], *hung] if one["day"] < day]
    return day - max(before) if before else None


def _is_placed(event: Event) -> bool:
    return "bed" in event or "planting" in event


def _finding(
    context: Context, rule: Rule, planting: Planting, trap: str, name: str, readings: list[Event]
) -> Finding:
    hung = [
        event
        for event in find_for(context, {"kind": "trap_set"}, planting)
        if event["details"].get("trap") == trap
    ]
    sort = text(hung[-1]["details"].get("trap_kind")) if hung else None
    threshold = catch_limit(context, planting, name, sort or "")
    used, nights, total = _readings(readings, hung, threshold["nights"])
    values: dict[str, Any] = {"organism": name, "trap": trap}
    if threshold["limit"] is not None:
        values["limit_a_night"] = threshold["limit"]
    why = [reason("done.trap_read", done_day=readings[-1]["day"])]
    if nights > 0:
        values |= {"a_night": total / nights, "a_week": total / nights * NIGHTS_A_WEEK}
        why.append(reason("scouting.catch", total=total, nights=nights, a_night=total / nights))
    why += _limit_reasons(planting, threshold, sort)
    answer, state = _answer(threshold, nights, total)
    if answer == "few_nights":
        why.append(reason("scouting.more_nights", nights=nights, needed=threshold["nights"]))
    if state == "due":
        why.append(reason("scouting.before_acting"))
    made = finding(context, rule, readings[-1]["id"], state, values, why, used)
    made["message"]["key"] = f"{rule.get('says', rule['shape'])}.{answer}"
    return made


def _readings(
    readings: list[Event], hung: list[Event], wanted: float
) -> tuple[list[Event], float, float]:
    """The latest readings that make up the wanted nights, with their nights and their catch."""
    used: list[Event] = []
    nights = total = 0.0
    for at in range(len(readings) - 1, -1, -1):
        own_nights = nights_of(readings, at, hung)
        count = number(readings[at]["details"].get("count"))
        if own_nights is None or count is None or count < 0:
            break
        used.insert(0, readings[at])
        nights += own_nights
        total += count
        if nights >= wanted:
            break
    return used or [readings[-1]], nights, total


def _answer(threshold: dict[str, Any], nights: float, total: float) -> tuple[str, str]:
    if nights <= 0:
        return "no_nights", "unknown"
    if threshold["limit"] is None:
        return "no_catch_limit", "unknown"
    if nights < threshold["nights"]:
        return "few_nights", "unknown"
    if total / nights >= threshold["limit"]:
        return "catch_above", "due"
    return "catch_below", "noted"


def _limit_reasons(planting: Planting, threshold: dict[str, Any], sort: str | None) -> list[Reason]:
    """The catch from which to act, with its source, or that there is none."""
    row = threshold["row"]
    if threshold["limit"] is None:
        return [reason("scouting.set_catch" if sort else "scouting.sort_of_trap")]
    if row is None:
        return [reason("scouting.own_catch", limit_a_night=threshold["limit"])]
    made = [
        reason(
            "scouting.limit_catch",
            limit_a_night=threshold["limit"],
            over_nights=row["over_nights"],
            trap_sort=row["trap_kind"],
            crop=planting.get("crop"),
            threshold_region=row["region"],
            threshold_source=row["source"],
        )
    ]
    if "note" in row:
        made.append(reason("scouting.limit_note", limit_note=row["note"]))
    return made
