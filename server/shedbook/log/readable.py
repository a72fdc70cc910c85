"""Whether an entry can be told at all: the twin of client/log/readable.js.

What comes in is checked long before this. But a log may hold what an older or newer shed took, and
one odd entry must not keep a whole garden from being read: it is kept, and left out of the fold.
"""

from typing import Any

from shedbook.log.kinds.making import MOST_PLANTS
from shedbook.log.moment import parse_day, parse_moment
from shedbook.log.telling import MENDING_KINDS


def can_be_told(entry: dict[str, Any]) -> bool:
    """Whether the fold finds all that it reads of an entry, in a form that it can read."""
    kind, subjects, details = entry.get("kind"), entry.get("subjects"), entry.get("details")
    if not isinstance(kind, str) or not isinstance(details, dict):
        return False
    if not _is_moment(entry.get("happened_at")) or not isinstance(entry.get("answers", ""), str):
        return False
    return (
        isinstance(subjects, dict)
        and _is_subjects(subjects)
        and _fits_kind(kind, subjects, details)
    )


def _is_subjects(subjects: dict[str, Any]) -> bool:
    plants = subjects.get("plants", [])
    if not isinstance(plants, list) or not all(_is_plant(plant) for plant in plants):
        return False
    return all(isinstance(subjects.get(slot, ""), str) for slot in ("bed", "planting"))


def _fits_kind(kind: str, subjects: dict[str, Any], details: dict[str, Any]) -> bool:
    if kind in MENDING_KINDS and not isinstance(details.get("entry"), str):
        return False
    if kind == "correct":
        told, restated = details.get("kind"), details.get("restated")
        return isinstance(told, str) and isinstance(restated, dict) and _fits_place(told, restated)
    if kind == "bed" and "bed" not in subjects:
        return False
    if kind in ("planting", "plant") and "planting" not in subjects:
        return False
    return _fits_place(kind, details)


def _fits_place(kind: str, details: dict[str, Any]) -> bool:
    """The few fields of a bed or planting that the fold itself looks into."""
    if kind == "bed":
        beside = details.get("beside")
        is_ids = isinstance(beside, list) and all(isinstance(one, str) for one in beside)
        return beside is None or is_ids
    if kind == "planting":
        plants, ended_on = details.get("plants"), details.get("ended_on")
        return (plants is None or _is_plant(plants)) and (ended_on is None or _is_day(ended_on))
    return True


def _is_plant(value: Any) -> bool:
    """A whole number of a plant, or of plants; 5.0 is whole, since JSON has one kind of number."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return 1 <= value <= MOST_PLANTS and value == int(value)


def _is_moment(value: Any) -> bool:
    try:
        parse_moment(value)
    except (TypeError, ValueError):
        return False
    return True


def _is_day(value: Any) -> bool:
    try:
        parse_day(value)
    except (TypeError, ValueError):
        return False
    return True
