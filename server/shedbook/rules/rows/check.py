"""Checks a row of the rulebook before anything runs on it, and says what would be right."""

import math
from collections.abc import Callable, Mapping
from typing import Any

Check = Callable[[Any], bool]
# The check of a param, and what would be right in words.
Params = dict[str, tuple[Check, str]]

SHORTEST_SOURCE = 10


class RowError(ValueError):
    """A row that can't be used: which one, where in it, and what would be right."""

    def __init__(self, rule_id: str, param: str, wanted: str, found: Any) -> None:
        super().__init__(f"Rule {rule_id}: {param} must be {wanted}, found {found!r}.")
        self.rule_id = rule_id
        self.param = param


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and value >= 0


def _is_whole(value: Any) -> bool:
    return isinstance(value, int) and _is_number(value)


def _is_name(value: Any) -> bool:
    return isinstance(value, str) and value.isascii() and value.isidentifier()


def _is_list_of(check: Check) -> Check:
    return lambda value: isinstance(value, list) and value != [] and all(map(check, value))


def _is_where(value: Any) -> bool:
    return _is_list_of(_is_test)(value)


def _is_test(value: Any) -> bool:
    if not isinstance(value, Mapping) or not _is_name(value.get("field")):
        return False
    asked = [
        _is_list_of(lambda one: isinstance(one, str))(value["is"]) if "is" in value else None,
        _is_number(value["at_least"]) if "at_least" in value else None,
        _is_number(value["above"]) if "above" in value else None,
    ]
    known = set(value) <= {"field", "is", "at_least", "above", "or_absent"}
    return known and [one for one in asked if one is not None] == [True]


def _is_condition(value: Any) -> bool:
    return (
        isinstance(value, Mapping)
        and _is_name(value.get("kind"))
        and set(value) <= {"kind", "where", "each"}
        and ("where" not in value or _is_where(value["where"]))
        and value.get("each", True) is True
    )


def _is_span(value: Any) -> bool:
    known = isinstance(value, Mapping) and set(value) == {"field", "unit"}
    return known and _is_name(value["field"]) and value["unit"] in ("day", "hour")


def _is_blocks(value: Any) -> bool:
    return bool(value == "hand_work") or _is_list_of(_is_name)(value)


def _is_pair(value: Any) -> bool:
    return (
        isinstance(value, Mapping)
        and all(map(_is_name, value.values()))
        and "reason" in value
        and len({"crop", "family"} & set(value)) == 1
        and len({"against_crop", "against_family"} & set(value)) == 1
        and len(value) == 3
    )


def _is_settles(value: Any) -> bool:
    known = isinstance(value, Mapping) and set(value) == {"kind", "details"}
    return known and _is_name(value["kind"]) and isinstance(value["details"], Mapping)


NUMBER = (_is_number, "a number, not below 0")
WHOLE = (_is_whole, "a whole number, not below 0")
NAME = (_is_name, "a plain name")
NAMES = (_is_list_of(_is_name), "a list of plain names")
CONDITION = (_is_condition, "a kind, perhaps with `where` and `each = true`")
CONDITIONS = (_is_list_of(_is_condition), "a list of kinds, each perhaps with `where`")
WHERE = (_is_where, "a list of tests: a field with one of is, at_least or above")

COMMON: Params = {
    "shape": NAME,
    "subject": (lambda value: value in ("bed", "planting", "both"), "bed, planting or both"),
    "source": (
        lambda value: isinstance(value, str) and len(value) >= SHORTEST_SOURCE,
        "a source, or `common practice, no source`",
    ),
    "urgency": (_is_whole, "a whole number, larger for what comes first"),
}
COMMON_OPTIONAL: Params = {
    "caution": NAME,
    "settles": (_is_settles, "a kind and the details that one tap writes"),
    "crops": NAMES,
    "families": NAMES,
    "bed_where": WHERE,
}
REQUIRED: dict[str, Params] = {
    "once_after": {
        "anchor": CONDITION,
        "due_after_days": (_is_list_of(_is_whole), "a list of whole numbers of days"),
        "settled_by": CONDITION,
    },
    "repeat_every": {"anchor": CONDITION, "settled_by": CONDITION},
    "withhold": {
        "after": CONDITION,
        "span": (_is_span, "a field and a unit, day or hour"),
        "blocks": (_is_blocks, "hand_work or a list of kinds"),
        "reach": (lambda value: value in ("plants", "bed"), "plants or bed"),
    },
    "gap": {"counts": CONDITIONS, "due_after_hours": NUMBER, "closes_after_hours": NUMBER},
    "evenness": {
        "counts": CONDITIONS,
        "window_days": WHOLE,
        "min_gaps": WHOLE,
        "shares_of": NAME,
        "morning_before_hour": WHOLE,
    },
    "rest": {
        "match": (lambda value: value == "family", "family"),
        "years": WHOLE,
        "same_season_days": WHOLE,
    },
    "beside": {
        "assumed_days": WHOLE,
        "pairs": (_is_list_of(_is_pair), "crop or family, against_crop or -family, reason"),
    },
}
OPTIONAL: dict[str, Params] = {
    "once_after": {"opens_before_days": WHOLE, "closes_after_days": WHOLE},
    "repeat_every": {
        "every_days": WHOLE,
        "every_days_of_crop": NAME,
        "opens_before_days": WHOLE,
        "closes_after_days": WHOLE,
        "lasts_days": WHOLE,
    },
    "withhold": {"no_label": WHERE, "unknown_lasts_days": WHOLE},
    "evenness": {"limit_longest_gap_hours": NUMBER, "limit_cv": NUMBER},
}


def check_row(rule_id: str, row: Mapping[str, Any]) -> None:
    """Raise RowError unless the row has the form of its shape; `names` checks what it names."""
    shape = row.get("shape")
    if not isinstance(shape, str) or shape not in REQUIRED:
        raise RowError(rule_id, "shape", f"one of {', '.join(REQUIRED)}", shape)
    required = COMMON | REQUIRED[shape]
    allowed = required | COMMON_OPTIONAL | OPTIONAL.get(shape, {})
    for param in required:
        if param not in row:
            raise RowError(rule_id, param, allowed[param][1], "nothing")
    for param, value in row.items():
        if param not in allowed:
            raise RowError(rule_id, param, f"one of {', '.join(sorted(allowed))}", param)
        check, wanted = allowed[param]
        if not check(value):
            raise RowError(rule_id, param, wanted, value)
    if shape == "repeat_every" and not {"every_days", "every_days_of_crop"} & set(row):
        raise RowError(rule_id, "every_days", "given, or every_days_of_crop", "neither")
    if row.get("closes_after_hours", math.inf) < row.get("due_after_hours", 0):
        raise RowError(
            rule_id, "closes_after_hours", "no less than due_after_hours", row["closes_after_hours"]
        )
