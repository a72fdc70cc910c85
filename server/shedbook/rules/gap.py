"""How long since the last of several kinds of event, such as water or enough rain."""

from collections.abc import Iterator

from shedbook.rules.finding import Finding, finding, key_prefix, reason
from shedbook.rules.match import (
    Context,
    Event,
    Json,
    Planting,
    Rule,
    concerns,
    holds,
    is_partial,
    limit,
    live_plants,
    stands,
    time_of,
)

HOUR_S = 3600
DAY_S = 86_400


def gap(context: Context, rule: Rule) -> list[Finding]:
    """Due when the planting of this subject that has waited longest has waited too long."""
    counts = rule["params"]["counts"]
    waits = [_since(context, planting, counts) for planting in standing_plantings(context)]
    if not waits:
        return []
    start, last = min(waits, key=lambda wait: (wait[0], wait[1]["id"] if wait[1] else ""))
    due_after = limit(context, rule, "due_after_hours") or 0
    closes_after = max(limit(context, rule, "closes_after_hours") or 0, due_after)
    ordinal = last["id"] if last else "start"
    hours = (context.now - start) / HOUR_S
    if hours < due_after or key_prefix(context, rule) + ordinal in context.declined:
        return []
    state = "due" if hours <= closes_after else "overdue"
    values = {"gap_hours": hours, "limit_hours": due_after}
    if state == "overdue":
        values["late_hours"] = hours - due_after
    why = [
        reason("gap.last", last_instant=start) if last else reason("gap.never", since_instant=start)
    ]
    why.append(reason("gap.limit", gap_hours=hours, limit_hours=due_after))
    made = finding(context, rule, ordinal, state, values, why, [last] if last else [])
    made["from"] = start + int(due_after * HOUR_S)
    return [made]


def give_way(found: list[Finding], rulebook: Json) -> None:
    """Where a bed's water account has an answer, the days since the last water are only noted."""
    shapes = {rule["id"]: rule["shape"] for rule in rulebook["rules"]}
    if not any(
        shapes[made["rule"]] == "balance" and made["state"] in ("due", "overdue", "noted")
        for made in found
    ):
        return
    for made in found:
        settles = made["settles"]
        if shapes[made["rule"]] == "gap" and settles is not None and settles["kind"] == "water":
            made["state"] = "noted"
            made["settles"] = None
            made["message"] = {"key": "gap.noted", "values": made["message"]["values"]}
            made["reasons"].append(reason("gap.account"))


def _latest_first(context: Context, counts: list[Json]) -> Iterator[Event]:
    """The events that meet any of the conditions, latest first; most callers need only a few."""
    lists = [context.by_kind.get(condition["kind"], []) for condition in counts]
    left = [len(events) for events in lists]
    while any(left):
        ends = [(time_of(lists[one][left[one] - 1]), one) for one in range(len(lists)) if left[one]]
        latest = max(ends)[1]
        left[latest] -= 1
        event = lists[latest][left[latest]]
        if holds(counts[latest].get("where", []), event["details"]):
            yield event


def standing_plantings(context: Context) -> list[Planting]:
    """The plantings that the subject is about today: itself, or what stands in the bed."""
    planting = context.view["planting"]
    about = context.view["residents"] if planting is None else [planting]
    return [one for one in about if stands(one, context.today)]


def start_of(context: Context, planting: Planting) -> int:
    """The instant from which the planting has stood in its place."""
    day: int = planting["from_day"]
    same_day = (
        event["instant"]
        for kind in ("transplant", "sow")
        for event in context.by_kind.get(kind, [])
        if event["day"] == day and event.get("planting") == planting["id"]
    )
    return min(same_day, default=day * DAY_S)


def _since(context: Context, planting: Planting, counts: list[Json]) -> tuple[int, Event | None]:
    """The last event of those plants that have waited longest."""
    waiting = set(live_plants(planting, context.today))
    for event in _latest_first(context, counts):
        if concerns(event, planting):
            waiting = waiting - set(event["plants"]) if is_partial(event) else set()
            if not waiting:
                return event["instant"], event
    return start_of(context, planting), None
