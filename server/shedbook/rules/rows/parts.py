"""The parts that a row of the rulebook is made of: what each may hold, and how to say it."""

from collections.abc import Callable, Mapping
from typing import Any

Check = Callable[[Any], bool]
# The check of a param, and what would be right in words.
Params = dict[str, tuple[Check, str]]


def is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and value >= 0


def is_whole(value: Any) -> bool:
    return isinstance(value, int) and is_number(value)


def is_name(value: Any) -> bool:
    return isinstance(value, str) and value.isascii() and value.isidentifier()


def is_list_of(check: Check) -> Check:
    return lambda value: isinstance(value, list) and value != [] and all(map(check, value))


def is_where(value: Any) -> bool:
    return is_list_of(is_test)(value)


def is_test(value: Any) -> bool:
    if not isinstance(value, Mapping) or not is_name(value.get("field")):
        return False
    asked = [
        is_list_of(lambda one: isinstance(one, str))(value["is"]) if "is" in value else None,
        is_number(value["at_least"]) if "at_least" in value else None,
        is_number(value["at_most"]) if "at_most" in value else None,
        is_number(value["above"]) if "above" in value else None,
        isinstance(value["yes"], bool) if "yes" in value else None,
    ]
    known = set(value) <= {"field", "is", "at_least", "at_most", "above", "yes", "or_absent"}
    return known and [one for one in asked if one is not None] == [True]


def is_condition(value: Any) -> bool:
    return (
        isinstance(value, Mapping)
        and is_name(value.get("kind"))
        and set(value) <= {"kind", "where", "each"}
        and ("where" not in value or is_where(value["where"]))
        and value.get("each", True) is True
    )


def is_span(value: Any) -> bool:
    known = isinstance(value, Mapping) and set(value) == {"field", "unit"}
    return known and is_name(value["field"]) and value["unit"] in ("day", "hour")


def is_after(value: Any) -> bool:
    return is_condition(value) or is_list_of(is_condition)(value)


def is_advice(value: Any) -> bool:
    known = isinstance(value, Mapping) and value != {}
    return known and all(is_name(name) and is_number(size) for name, size in value.items())


def is_choice_of_days(value: Any) -> bool:
    known = isinstance(value, Mapping) and set(value) == {"fact", "span_days"}
    return known and is_name(value["fact"]) and is_whole(value["span_days"])


def is_blocks(value: Any) -> bool:
    return bool(value == "hand_work") or is_list_of(is_name)(value)


GRADES = ("trial", "extension", "growers_say")
SHORTEST_SOURCE = 4


def is_pair_with(side: str) -> Check:
    """The check of a pair whose other crop or family is named with this prefix."""
    names = ("crop", "family", f"{side}crop", f"{side}family", "reason", "trouble")

    def is_pair(value: Any) -> bool:
        return (
            isinstance(value, Mapping)
            and set(value) <= {*names, "grade", "source", "good"}
            and all(is_name(value[name]) for name in names if name in value)
            and {"reason", "grade", "source"} <= set(value)
            and value["grade"] in GRADES
            and isinstance(value["source"], str)
            and len(value["source"]) >= SHORTEST_SOURCE
            and value.get("good", True) is True
            and len({"crop", "family"} & set(value)) == 1
            and len({f"{side}crop", f"{side}family"} & set(value)) == 1
        )

    return is_pair


def is_weights(value: Any) -> bool:
    return isinstance(value, Mapping) and set(value) == set(GRADES) and all_numbers(value)


def all_numbers(value: Mapping[str, Any]) -> bool:
    return all(map(is_number, value.values()))


def is_advised(value: Any) -> bool:
    known = isinstance(value, Mapping) and set(value) == {"years", "source", "crops"}
    return known and is_whole(value["years"]) and is_list_of(is_name)(value["crops"])


def is_settles(value: Any) -> bool:
    known = isinstance(value, Mapping) and set(value) == {"kind", "details"}
    return known and is_name(value["kind"]) and isinstance(value["details"], Mapping)


NUMBER = (is_number, "a number, not below 0")
WHOLE = (is_whole, "a whole number, not below 0")
NAME = (is_name, "a plain name")
NAMES = (is_list_of(is_name), "a list of plain names")
CONDITION = (is_condition, "a kind, perhaps with `where` and `each = true`")
CONDITIONS = (is_list_of(is_condition), "a list of kinds, each perhaps with `where`")
WHERE = (is_where, "a list of tests: a field with one of is, at_least, at_most, above or yes")
