"""Reads `field=value` words of a command into the details of a kind."""

import difflib
import json
from collections.abc import Iterable
from typing import Any

import click

from shedbook.log.check import schema_of
from shedbook.log.kinds import KINDS
from shedbook.log.kinds.making import MOST_PLANTS

_YES_NO = {"yes": True, "true": True, "no": False, "false": False}


def field_values(kind: str, words: Iterable[str]) -> dict[str, Any]:
    """The details that the words spell. Raises click.UsageError for a word that isn't one."""
    fields = schema_of(kind).fields
    forms = {field.data_key or name: field for name, field in fields.items()}
    details: dict[str, Any] = {}
    for word in words:
        name, equals, text = word.partition("=")
        if not equals or not text:
            raise click.UsageError(f"{word!r} should be field=value, such as {_example(kind)}.")
        if name not in forms:
            raise click.UsageError(_unknown_field(kind, name, list(forms)))
        if name in details:
            raise click.UsageError(f"{name} is given twice. Give it once.")
        details[name] = _read_value(getattr(forms[name], "form_type", "text"), text)
    return details


def plant_numbers(text: str) -> list[int]:
    """`1-4,7` as 1, 2, 3, 4, 7. Raises click.UsageError for anything else."""
    found: set[int] = set()
    for part in text.split(","):
        first, dash, last = part.strip().partition("-")
        if not first.isdecimal() or (dash and not last.isdecimal()):
            raise click.UsageError(f"--plants {text!r} should be numbers such as 1-8 or 1,4,7.")
        low, high = int(first), int(last or first)
        if not 1 <= low <= high <= MOST_PLANTS:
            raise click.UsageError(
                f"--plants {part!r} should run from a lower to a higher number, "
                f"from 1 to {MOST_PLANTS}."
            )
        found.update(range(low, high + 1))
    return sorted(found)


def _read_value(form_type: str, text: str) -> Any:
    """What isn't readable as its type stays text, and the check says what would be right."""
    if form_type in {"number", "integer"}:
        try:
            read = json.loads(text)
        except ValueError:
            return text
        return read if isinstance(read, int | float) else text
    if form_type == "number_list":
        return [_read_value("number", part) for part in text.split(",")]
    if form_type == "name_list":
        return text.split(",")
    if form_type == "boolean":
        return _YES_NO.get(text.lower(), text)
    return text


def _unknown_field(kind: str, name: str, known: list[str]) -> str:
    near = difflib.get_close_matches(name, known, n=1)
    hint = f" Did you mean {near[0]}?" if near else ""
    return f"{kind} has no field {name}.{hint} Its fields are: {', '.join(known)}."


def _example(kind: str) -> str:
    groups = KINDS[kind].schema.at_least_one
    fields = schema_of(kind).fields
    name = groups[0][0] if groups else next(iter(fields))
    is_number = getattr(fields.get(name), "form_type", "") in {"number", "integer"}
    return f"{name}=12" if is_number else f"{name}=..."
