"""What a rule sees: one subject's events by kind, the plants they cover, the rule's own numbers.

Everything read from a log may be missing or odd, so each reader here answers None instead of
raising; the shapes turn that into "unknown" or leave the event out.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

Json = Mapping[str, Any]
Event = Mapping[str, Any]
Planting = Mapping[str, Any]
Rule = Mapping[str, Any]

LARGEST = 1_000_000_000
AHEAD_S = 86_400
MOST_PLANTS = 20_000
# Stands for all plants of a planting whose number was never logged.
UNCOUNTED = 0


@dataclass(frozen=True)
class Context:
    """One subject's view, made ready for the shapes; `ahead` holds events dated in the future."""

    view: Json
    rulebook: Json
    today: int
    now: int
    events: list[Event]
    by_kind: Mapping[str, list[Event]]
    ahead: Mapping[str, list[Event]]
    declined: Mapping[str, int]
    # The plants that an event names, by its id: a list of thousands is searched once a plant.
    named: dict[str, frozenset[int]] = field(default_factory=dict)
    # What several rules ask for and is worth keeping, such as the weather of a span of days.
    known: dict[str, Any] = field(default_factory=dict)


def context_of(view: Json, rulebook: Json, today: int, now: int) -> Context:
    """Sort the view's events by kind, once for all rules."""
    by_kind: dict[str, list[Event]] = {}
    ahead: dict[str, list[Event]] = {}
    declined: dict[str, int] = {}
    events = in_time(view["events"])
    for event in events:
        kept = ahead if event["instant"] > now + AHEAD_S else by_kind
        kept.setdefault(event["kind"], []).append(event)
        if event["kind"] == "decline" and kept is by_kind and "answers" in event:
            declined[event["answers"]] = event["instant"]
    return Context(view, rulebook, today, now, events, by_kind, ahead, declined)


def time_of(event: Event) -> tuple[int, str, str]:
    """What events are sorted by."""
    return event["instant"], event["order"], event["id"]


def in_time(events: Iterable[Event]) -> list[Event]:
    """The events, earliest first."""
    return sorted(events, key=time_of)


def number(value: Any) -> float | None:
    """The value, if it is a number of a size that a garden can have."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return value if abs(value) <= LARGEST else None


def text(value: Any) -> str | None:
    """The value, if it is text."""
    return value if isinstance(value, str) else None


def own(container: Any, key: str) -> Any:
    """What a mapping from the log holds under a key, None if it is no mapping."""
    return container.get(key) if isinstance(container, Mapping) else None


def holds(conditions: Sequence[Json], fields: Json) -> bool:
    """Do the fields meet every condition of a `where`?"""
    return all(_holds(condition, fields.get(condition["field"])) for condition in conditions)


def _holds(condition: Json, value: Any) -> bool:
    if value is None:
        return condition.get("or_absent") is True
    if "is" in condition:
        return isinstance(value, str) and value in condition["is"]
    if "yes" in condition:
        return value is condition["yes"]
    size = number(value)
    if size is None:
        return False
    if "at_least" in condition:
        return bool(size >= condition["at_least"])
    return bool(
        size <= condition["at_most"] if "at_most" in condition else size > condition["above"]
    )


def find(context: Context, condition: Json) -> list[Event]:
    """The view's events of a kind that meet its `where`, earliest first."""
    found = context.by_kind.get(condition["kind"], [])
    where = condition.get("where")
    return [event for event in found if holds(where, event["details"])] if where else found


def concerns(event: Event, planting: Planting) -> bool:
    """Is the event about this planting: named, or as part of its bed or of the garden?"""
    if "planting" in event:
        return bool(event["planting"] == planting["id"])
    return "bed" not in event or event["bed"] == planting.get("bed")


def since(events: list[Event], instant: float) -> int:
    """Index of the first of the events, earliest first, that is not before the instant."""
    low, high = 0, len(events)
    while low < high:
        middle = (low + high) // 2
        if events[middle]["instant"] < instant:
            low = middle + 1
        else:
            high = middle
    return low


def find_for(context: Context, condition: Json, planting: Planting) -> list[Event]:
    """Matching events that concern the planting, earliest first."""
    return [event for event in find(context, condition) if concerns(event, planting)]


def is_partial(event: Event) -> bool:
    """Does the event name single plants?"""
    return "planting" in event and "plants" in event


def named_plants(context: Context, event: Event) -> frozenset[int]:
    """The plants that a partial event names."""
    known = context.named.get(event["id"])
    if known is None:
        known = context.named[event["id"]] = frozenset(event["plants"])
    return known


def covers(context: Context, event: Event, plant: int) -> bool:
    """Does an event that concerns the planting reach this plant?"""
    return not is_partial(event) or plant in named_plants(context, event)


def live_plants(planting: Planting, today: int) -> list[int]:
    """The plants not removed by today, ascending; UNCOUNTED alone when not numbered."""
    count = number(planting.get("plants"))
    if count is None or count < 1 or count > MOST_PLANTS:
        return [UNCOUNTED]
    removed = planting.get("removed") or {}
    gone = {int(plant) for plant, day in removed.items() if day <= today}
    return [plant for plant in range(1, math.floor(count) + 1) if plant not in gone]


def plant_groups(plants: list[int], events: Sequence[Event]) -> list[list[int]]:
    """The plants in groups that no event tells apart, so that a group needs one look."""
    groups = [plants] if plants else []
    for event in events:
        if is_partial(event):
            named = set(event["plants"])
            halves = [[plant for plant in group if plant in named] for group in groups]
            rests = [[plant for plant in group if plant not in named] for group in groups]
            groups = [group for group in halves + rests if group]
    return groups


def has_ended(planting: Planting, today: int) -> bool:
    """Was the planting cleared by today?"""
    until = planting.get("until_day")
    return until is not None and until <= today


def stands(planting: Planting, today: int) -> bool:
    """Is the planting in the ground (or in its container) today?"""
    start = planting.get("from_day")
    return start is not None and start <= today and not has_ended(planting, today)


def limit(context: Context, rule: Rule, param: str) -> float | None:
    """A number of the rule; the garden's own threshold goes before the row's."""
    thresholds = context.view["settings"].get("thresholds")
    chosen = number(own(thresholds, f"{rule['id']}.{param}"))
    if chosen is not None and chosen >= 0:
        return chosen
    return number(rule["params"].get(param))


def days(context: Context, rule: Rule, param: str) -> int:
    """A number of the rule in whole days, 0 if the row has none."""
    return math.floor(limit(context, rule, param) or 0)


def crop_fact(context: Context, crop: Any, field: str) -> Any:
    """A fact about a crop: from the garden's own crops, else from the crops that ship."""
    if text(crop) is None:
        return None
    chosen = own(own(context.view["settings"].get("crops"), crop), field)
    return own(own(context.rulebook["crops"], crop), field) if chosen is None else chosen


def family_of(context: Context, planting: Planting) -> str | None:
    """The family of the planting's crop, None if the crop is not known."""
    return text(crop_fact(context, planting.get("crop"), "family"))


def applies(context: Context, rule: Rule) -> bool:
    """Is the view's subject one that the rule is about?"""
    view = context.view
    if rule["subject"] not in (view["kind"], "both"):
        return False
    if "bed_where" in rule and not holds(rule["bed_where"], view["bed"] or {}):
        return False
    planting = view["planting"] or {}
    if "crops" in rule and planting.get("crop") not in rule["crops"]:
        return False
    return "families" not in rule or family_of(context, planting) in rule["families"]
