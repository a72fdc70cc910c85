"""Checks that everything a row names exists, so that no rule sleeps on a slip of the pen."""

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass
from typing import Any

from shedbook.rules.rows.check import RowError

# What the fields of each kind may say: their choices, or None where the field takes anything else.
Fields = Mapping[str, Set[str] | None]


@dataclass(frozen=True)
class Known:
    """The names that rows may use."""

    kinds: Mapping[str, Fields]
    crops: Set[str]
    families: Set[str]
    crop_facts: Set[str]


def check_names(rule_id: str, row: Mapping[str, Any], known: Known) -> None:
    """Raise RowError for a kind, field, choice, crop, family or crop fact that does not exist."""
    sorts = {"kind": known.kinds.keys(), "crop": known.crops, "family": known.families}
    for sort, name in _names(row):
        if name not in sorts[sort]:
            raise RowError(rule_id, sort, f"a known {sort}", name)
    for param, sort in (("crops", "crop"), ("families", "family")):
        for name in row.get(param, []):
            if name not in sorts[sort]:
                raise RowError(rule_id, param, f"a known {sort}", name)
    for param, kind, field, values in _fields(row):
        _check_field(rule_id, f"{param}.{field}", known.kinds[kind], field, values)
    fact = row.get("every_days_of_crop")
    if fact is not None and fact not in known.crop_facts:
        raise RowError(rule_id, "every_days_of_crop", "a fact of crops.toml", fact)


def _check_field(
    rule_id: str, param: str, fields: Fields, field: str, values: list[str] | None
) -> None:
    if field not in fields:
        raise RowError(rule_id, param, f"one of {', '.join(sorted(fields))}", field)
    choices = fields[field]
    for value in values or []:
        if choices is not None and value not in choices:
            raise RowError(rule_id, param, f"one of {', '.join(sorted(choices))}", value)


def _names(row: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Kinds, crops and families that stand anywhere in the row but in its two lists."""
    for condition in _conditions(row):
        yield "kind", condition[1]["kind"]
    if "settles" in row:
        yield "kind", row["settles"]["kind"]
    if "shares_of" in row:
        yield "kind", row["shares_of"]
    blocks = row.get("blocks", "hand_work")
    for kind in [] if blocks == "hand_work" else blocks:
        yield "kind", kind
    for pair in row.get("pairs", []):
        for key, name in pair.items():
            if key != "reason":
                yield key.removeprefix("against_"), name


def _conditions(row: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any]]]:
    for param in ("anchor", "settled_by", "after"):
        if param in row:
            yield param, row[param]
    for condition in row.get("counts", []):
        yield "counts", condition


def _fields(row: Mapping[str, Any]) -> Iterator[tuple[str, str, str, list[str] | None]]:
    """Each field that the row looks at: where, of which kind, and the texts asked for."""
    for param, condition in _conditions(row):
        for test in condition.get("where", []):
            yield param, condition["kind"], test["field"], test.get("is")
    for test in row.get("bed_where", []):
        yield "bed_where", "bed", test["field"], test.get("is")
    if "after" in row:
        for test in row.get("no_label", []):
            yield "no_label", row["after"]["kind"], test["field"], test.get("is")
        yield "span", row["after"]["kind"], row["span"]["field"], None
    for field, value in row.get("settles", {}).get("details", {}).items():
        yield "settles", row["settles"]["kind"], field, [value] if isinstance(value, str) else None
