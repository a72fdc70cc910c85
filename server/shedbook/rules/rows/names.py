"""Checks that everything a row names exists, so that no rule sleeps on a slip of the pen."""

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass
from typing import Any

from shedbook.rules.rows.check import RowError
from shedbook.rules.rows.measures import BOUND_NAMES, sources_of

# What the fields of each kind may say: their choices, or None where the field takes anything else.
Fields = Mapping[str, Set[str] | None]

# The params that hold a kind, or a list of kinds, each perhaps with `where`.
CONDITION_PARAMS = (
    *("anchor", "settled_by", "after", "counts", "ended_by"),
    *("at", "only_before", "needs", "ends_with", "biofix", "of", "near"),
)


@dataclass(frozen=True)
class Known:
    """The names that rows may use."""

    kinds: Mapping[str, Fields]
    crops: Set[str]
    families: Set[str]
    crop_facts: Set[str]
    hosts: Set[str] = frozenset()


def check_names(rule_id: str, row: Mapping[str, Any], known: Known) -> None:
    """Raise RowError for a kind, field, choice, crop, family or crop fact that does not exist."""
    sorts = {
        "kind": known.kinds.keys(),
        "crop": known.crops,
        "family": known.families,
        "trouble": known.hosts,
    }
    for sort, name in _names(row):
        if name not in sorts[sort]:
            raise RowError(rule_id, sort, f"a known {sort}", name)
    for param, sort in (("crops", "crop"), ("families", "family")):
        for name in row.get(param, []):
            if name not in sorts[sort]:
                raise RowError(rule_id, param, f"a known {sort}", name)
    for param, kind, field, values in _fields(row):
        _check_field(rule_id, f"{param}.{field}", known.kinds[kind], field, values)
    if "choose" in row and row["choose"]["fact"] not in known.crop_facts:
        raise RowError(rule_id, "choose", "a fact of a crop", row["choose"]["fact"])
    for param in ("every_days_of_crop", *(f"{bound}_of_crop" for bound in BOUND_NAMES)):
        fact = row.get(param)
        if fact is not None and fact not in known.crop_facts:
            raise RowError(rule_id, param, "a fact of a crop", fact)


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
            sort = key.removeprefix("against_").removeprefix("after_")
            if sort in ("crop", "family", "trouble"):
                yield sort, name
    for advised in row.get("advised", []):
        for name in advised["crops"]:
            yield "crop", name


def _conditions(row: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any]]]:
    for param in CONDITION_PARAMS:
        given = row.get(param, [])
        for condition in given if isinstance(given, list) else [given]:
            # An anchor may be a planned day instead.
            if "kind" in condition:
                yield param, condition
    for source in sources_of(row):
        yield "value", source


def _value_fields(row: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """The fields that a judged value is read from, and the kind that has them."""
    value = row.get("value", {})
    for source in value.get("of", []):
        yield source["kind"], source["field"]
    for name, kind in (("planting_field", "planting"), ("bed_field", "bed")):
        if name in value:
            yield kind, value[name]
    if "own_field" in value:
        yield row["at"]["kind"], value["own_field"]


def _fields(row: Mapping[str, Any]) -> Iterator[tuple[str, str, str, list[str] | None]]:
    """Each field that the row looks at: where, of which kind, and the texts asked for."""
    for param, condition in _conditions(row):
        for test in condition.get("where", []):
            yield param, condition["kind"], test["field"], test.get("is")
    for test in row.get("bed_where", []):
        yield "bed_where", "bed", test["field"], test.get("is")
    if "span" in row:
        for test in row.get("no_label", []):
            yield "no_label", row["after"]["kind"], test["field"], test.get("is")
        yield "span", row["after"]["kind"], row["span"]["field"], None
    for param in ("most_field", "interval_field", "same", "after_field"):
        if param in row:
            yield param, row["of"]["kind"], row[param], None
    for name in row.get("per", []) if "of" in row else []:
        yield "per", row["of"]["kind"], name, None
    for test in row.get("blocks_where", []):
        for kind in row["blocks"]:
            yield "blocks_where", kind, test["field"], test.get("is")
    for kind, field in _value_fields(row):
        yield "value", kind, field, None
    for field, value in row.get("settles", {}).get("details", {}).items():
        yield "settles", row["settles"]["kind"], field, [value] if isinstance(value, str) else None
