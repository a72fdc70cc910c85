"""What an entry is about: the bed, planting and plants that its kind asks for or forbids."""

from typing import Any

from shedbook.log.identity import is_id
from shedbook.log.kinds import Kind
from shedbook.log.kinds.making import MOST_PLANTS
from shedbook.log.kinds.texts import say
from shedbook.log.plain import Messages

LARGEST_NUMBER = 2**31 - 1


def check_subjects(kind: Kind, subjects: dict[str, Any]) -> Messages:
    """What is wrong with the subjects of an entry of this kind."""
    problems: Messages = {}
    for slot in ("bed", "planting", "plants"):
        policy = kind.subjects[slot]
        if slot not in subjects:
            if policy == "required":
                problems[f"subjects.{slot}"] = [say(f"subject_needed.{slot}")]
        elif policy == "none":
            problems[f"subjects.{slot}"] = [say("subject_unwanted")]
        else:
            problems |= _check_shape(subjects, slot)
    is_placed = "bed" in subjects or "planting" in subjects
    if kind.subjects.get("place") == "required" and not is_placed:
        problems["subjects"] = [say("subject_needed.place")]
    return problems


def check_shapes(subjects: dict[str, Any]) -> Messages:
    """What holds for every kind, also for one that only a newer version knows."""
    problems: Messages = {}
    for slot in ("bed", "planting", "plants"):
        if slot in subjects:
            problems |= _check_shape(subjects, slot)
    return problems


def is_an_id(value: object) -> bool:
    """Whether a value is a text in the form of an id."""
    return isinstance(value, str) and is_id(value)


def is_counting(value: object) -> bool:
    """Whether a value is a whole number from 1 that a log can hold."""
    return isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= LARGEST_NUMBER


def _check_shape(subjects: dict[str, Any], slot: str) -> Messages:
    if slot != "plants":
        is_right = is_an_id(subjects[slot])
        return {} if is_right else {f"subjects.{slot}": [say("not_an_id")]}
    if not _is_plants(subjects[slot]):
        return {"subjects.plants": [say("not_plants")]}
    return {} if "planting" in subjects else {"subjects.plants": [say("plants_alone")]}


def _is_plants(value: object) -> bool:
    if not isinstance(value, list) or not 1 <= len(value) <= MOST_PLANTS:
        return False
    if not all(is_counting(item) and item <= MOST_PLANTS for item in value):
        return False
    return len(set(value)) == len(value)
