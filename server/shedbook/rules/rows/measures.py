"""The parts of a row that judges a value, or that counts from a planned day: what each may hold."""

from collections.abc import Iterator, Mapping
from typing import Any

from shedbook.rules.rows.parts import is_condition, is_list_of, is_name, is_whole

DAYS_OF = ("planned_on", "last_frost")
UNITS = ("c", "m", "min", "days", "leaves", "plants")
PICKS = ("latest", "lowest", "highest", "mean")
OWN_FIELDS = ("own_field", "planting_field", "bed_field")


def is_integer(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def is_days_of(value: Any) -> bool:
    return is_list_of(lambda one: one in DAYS_OF)(value)


def is_anchor(value: Any) -> bool:
    if isinstance(value, Mapping) and "day_of" in value:
        return set(value) == {"day_of"} and is_days_of(value["day_of"])
    return is_condition(value)


def is_settling(value: Any) -> bool:
    return is_condition(value) or is_list_of(is_condition)(value)


def is_gate(value: Any) -> bool:
    return (
        isinstance(value, Mapping)
        and set(value) == {"day_of", "before_days", "after_days"}
        and is_days_of(value["day_of"])
        and is_whole(value["before_days"])
        and is_whole(value["after_days"])
    )


def is_value(value: Any) -> bool:
    """A field of the work, planting or bed; days since some work; or one pick out of events."""
    if not isinstance(value, Mapping):
        return False
    if "of" in value:
        known = set(value) <= {"of", "pick", "is_word"} and value.get("pick") in PICKS
        picks_words = value.get("is_word") is True and value["pick"] == "latest"
        is_fit = "is_word" not in value or picks_words
        return known and is_fit and is_list_of(is_source)(value["of"])
    if "days_since" in value:
        return len(value) == 1 and is_condition(value["days_since"])
    return len(value) == 1 and all(
        name in OWN_FIELDS and is_name(field) for name, field in value.items()
    )


def is_source(value: Any) -> bool:
    if not isinstance(value, Mapping):
        return False
    own = {"field", "within_days", "whose"}
    return (
        is_condition({name: one for name, one in value.items() if name not in own})
        and is_name(value.get("field"))
        and is_whole(value.get("within_days"))
        and value.get("whose", "bed") in ("bed", "tray")
    )


def unfit(row: Mapping[str, Any]) -> tuple[str, str] | None:
    """What the parts of a threshold row lack of each other: the param, and what would be right."""
    bounds = {name for name in row if name.removesuffix("_of_crop") in BOUND_NAMES}
    if ("is_not" in row) == bool(bounds):
        return "is_not", "given, or limits, and not both"
    if bounds and "unit" not in row:
        return "unit", f"one of {', '.join(UNITS)}, as there are limits"
    if "is_not" in row and "says" not in row:
        return "says", "given, as a choice needs sentences of its own"
    if ("at" in row) != ("recent_days" in row):
        return "recent_days", "given together with at"
    if "own_field" in row["value"] and "at" not in row:
        return "at", "given, as the value is a field of that work"
    if "at" in row and "gate" in row:
        return "gate", "left out, as work is judged whenever it is done"
    return None


def sources_of(row: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """The kinds of events that the value is read from."""
    value = row.get("value", {})
    yield from value.get("of", [])
    if "days_since" in value:
        yield value["days_since"]


BOUND_NAMES = ("at_least", "at_most", "better_at_least", "better_at_most")
INTEGERS = (is_list_of(is_integer), "a list of whole numbers of days")
ANCHOR = (is_anchor, f"a kind, or day_of with a list of {' and '.join(DAYS_OF)}")
SETTLING = (is_settling, "a kind or a list of kinds, each perhaps with `where`")
DAY_OF = (is_days_of, f"a list of {' and '.join(DAYS_OF)}")
GATE = (is_gate, "day_of, before_days and after_days")
VALUE = (is_value, "own_field, planting_field, bed_field, days_since, or `of` with a pick")
UNIT = (lambda value: value in UNITS, f"one of {', '.join(UNITS)}")
TRUE = (lambda value: value is True, "true, or left out")
