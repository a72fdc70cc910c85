"""Checks a row of the rulebook before anything runs on it, and says what would be right."""

import math
from collections.abc import Mapping
from typing import Any

from shedbook.rules.rows.forms import COMMON, COMMON_OPTIONAL, OPTIONAL, REQUIRED
from shedbook.rules.rows.heat import MODES, lacking_of_mode
from shedbook.rules.rows.measures import unfit


class RowError(ValueError):
    """A row that can't be used: which one, where in it, and what would be right."""

    def __init__(self, rule_id: str, param: str, wanted: str, found: Any) -> None:
        super().__init__(f"Rule {rule_id}: {param} must be {wanted}, found {found!r}.")
        self.rule_id = rule_id
        self.param = param


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
    if shape == "withhold":
        _check_span(rule_id, row)
    if shape == "rest" and (row["match"] == "family") != ("years" in row):
        wanted = "given for a family alone; those of a trouble stand with its hosts"
        raise RowError(rule_id, "years", wanted, row.get("years"))
    lacking = unfit(row) if shape == "threshold" else None
    lacking = lacking_of_mode(row) if shape in MODES else lacking
    if lacking is not None:
        raise RowError(rule_id, *lacking, row.get(lacking[0], "nothing"))
    if shape == "repeat_every" and not {"every_days", "every_days_of_crop"} & set(row):
        raise RowError(rule_id, "every_days", "given, or every_days_of_crop", "neither")
    if row.get("closes_after_hours", math.inf) < row.get("due_after_hours", 0):
        raise RowError(
            rule_id, "closes_after_hours", "no less than due_after_hours", row["closes_after_hours"]
        )


def _check_span(rule_id: str, row: Mapping[str, Any]) -> None:
    """One way to say how long, and nothing that could cut short what blocks work."""
    given = [param for param in ("span", "span_days", "span_hours") if param in row]
    if len(given) != 1:
        raise RowError(rule_id, "span", "given once: span, span_days or span_hours", given)
    if "span" in row and isinstance(row["after"], list):
        raise RowError(rule_id, "after", "one kind where the length is a field of it", row["after"])
    if "choose" in row and "span_days" not in row:
        raise RowError(rule_id, "choose", "left out where no span_days are given", row["choose"])
    if "softly" in row:
        return
    for param in ("ended_by", "flagged_days", "blocks_where"):
        if param in row:
            raise RowError(rule_id, param, "left out where work is blocked", row[param])
