"""Reads the one value that a row is about: from events, from an event, or from planting or bed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shedbook.rules.match import Context, Event, Json, find_for, number, time_of


@dataclass
class Reading:
    """A value, how it was come by, the field's name, what its reason tells, what proves it."""

    value: Any
    how: str
    field: str
    told: Mapping[str, Any]
    proof: Sequence[Event]


def read(context: Context, asked: Json, day: int, event: Event | None) -> Reading:
    """The value as of a day; `event` is the work that is judged, if there is one."""
    if "own_field" in asked:
        field = asked["own_field"]
        details = {} if event is None else event["details"]
        return Reading(details.get(field), "written", field, {}, [])
    if "planting_field" in asked:
        field, planting = asked["planting_field"], context.view["planting"]
        return Reading(planting.get(field), "written", field, {}, [planting])
    if "bed_field" in asked:
        field, bed = asked["bed_field"], context.view["bed"]
        value = None if bed is None else bed.get(field)
        return Reading(value, "written", field, {}, [] if bed is None else [bed])
    if "days_since" in asked:
        return _days_since(context, asked["days_since"], day)
    return _picked(context, asked, day)


def _days_since(context: Context, condition: Json, day: int) -> Reading:
    earlier = [
        event
        for event in find_for(context, condition, context.view["planting"])
        if event["day"] <= day
    ]
    if not earlier:
        return Reading(None, "written", "", {}, [])
    return Reading(day - earlier[-1]["day"], "written", "", {}, [earlier[-1]])


def _picked(context: Context, asked: Json, day: int) -> Reading:
    """One value out of a window of days: the latest, lowest or highest, or their mean."""
    seen: list[tuple[Any, Event]] = []
    for source in asked["of"]:
        first = day - source["within_days"]
        for event in find_for(context, source, context.view["planting"]):
            if first <= event["day"] <= day and _is_of(event, source.get("whose")):
                value = event["details"].get(source["field"])
                if "is_word" in asked or number(value) is not None:
                    seen.append((value, event))
    pick, field = asked["pick"], asked["of"][0]["field"]
    if not seen:
        return Reading(None, pick, field, {}, [])
    seen.sort(key=lambda one: time_of(one[1]))
    value, event = seen[-1]
    if pick == "mean":
        return Reading(_mean(seen), pick, field, {"count": len(seen)}, [one for _, one in seen])
    for other, at in seen:
        if (pick == "lowest" and other < value) or (pick == "highest" and other > value):
            value, event = other, at
    return Reading(value, pick, field, {"done_day": event["day"]}, [event])


def _is_of(event: Event, whose: str | None) -> bool:
    """A tray's own air and soil are named with its planting, those of a bed or garden without."""
    return whose is None or ("planting" in event) == (whose == "tray")


def _mean(seen: Sequence[tuple[Any, Event]]) -> float:
    total = 0.0
    for value, _ in seen:
        total = total + value
    return total / len(seen)
