"""Reads the cells of a grower's own table. What can't be read is said, never guessed."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from shedbook.log.kinds.making import MOST_PLANTS
from shedbook.log.moment import civil_date, parse_day
from shedbook.words import Words

_NUMBER = re.compile(r"[+-]?\d{1,15}(\.\d{1,15})?", re.ASCII)
_TIME = re.compile(r"(\d{1,2}):(\d\d)", re.ASCII)
_YES_NO = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}
NOON = (12, 0)


class CellUnfit(Exception):
    """What a cell should be instead."""


@dataclass(frozen=True)
class Writing:
    """How the table writes dates and figures."""

    date_format: str | None = None
    has_decimal_comma: bool = False


def read_date(text: str, how: Writing) -> date:
    """A day, written 2026-06-01 or as the format says."""
    if not text:
        raise CellUnfit("This is needed.")
    if how.date_format is None:
        try:
            return date(*civil_date(parse_day(text)))
        except ValueError as error:
            raise CellUnfit(f"{text}: {error} Other forms are read with --date-format.") from error
    try:
        read = datetime.strptime(text, how.date_format).replace(tzinfo=UTC).date()
    except ValueError as error:
        raise CellUnfit(f"{text} is no date of the form {how.date_format}.") from error
    return date(*civil_date(parse_day(read.isoformat())))


def read_time(text: str) -> tuple[int, int]:
    """Hour and minute; noon when the table does not say."""
    if not text:
        return NOON
    found = _TIME.fullmatch(text)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise CellUnfit(f"{text} should be a time like 07:40.")
    return int(found[1]), int(found[2])


def read_value(form: Any, name: str, text: str, how: Writing, words: Words) -> Any:
    """A cell as the value of a field. Raises CellUnfit."""
    form_type = form.form_type
    if form_type in {"number", "integer"}:
        return read_number(text, how)
    if form_type == "boolean":
        if text.casefold() not in _YES_NO:
            raise CellUnfit(f"{text} should be yes or no.")
        return _YES_NO[text.casefold()]
    if form_type == "choice":
        return _choice(form.metadata["choices"], name, text, words)
    if form_type == "date":
        return read_date(text, how).isoformat()
    if form_type == "number_list":
        return [read_number(part, how) for part in re.split(r"[\s;]+", text)]
    if form_type == "name_list":
        return re.split(r"[\s;,]+", text)
    return text


def read_plants(text: str) -> list[int]:
    """Plant numbers such as `1-4 7`."""
    found: set[int] = set()
    for part in re.split(r"[\s,;]+", text):
        first, dash, last = part.partition("-")
        if not first.isdecimal() or (dash and not last.isdecimal()):
            raise CellUnfit(f"{text} should be plant numbers such as 1-8 or 1 4 7.")
        low, high = int(first), int(last or first)
        if not 1 <= low <= high <= MOST_PLANTS:
            raise CellUnfit(f"{part} should run from a lower to a higher number, from 1.")
        found.update(range(low, high + 1))
    return sorted(found)


def read_number(text: str, how: Writing) -> int | float:
    """A bare number. Raises CellUnfit."""
    plain = text.replace(",", ".") if how.has_decimal_comma and text.count(",") == 1 else text
    if not _NUMBER.fullmatch(plain):
        comma = " If its comma is a decimal comma, add --decimal-comma." if "," in text else ""
        raise CellUnfit(f"{text} should be a bare number, without a unit.{comma}")
    return float(plain) if "." in plain else int(plain)


def _choice(choices: Sequence[str], name: str, text: str, words: Words) -> str:
    """One of the choices, by its own name or by the word that people see."""
    for choice in choices:
        if text.casefold() in {choice, words.get(f"choice.{name}.{choice}", choice).casefold()}:
            return choice
    raise CellUnfit(f"{text} should be one of: {', '.join(choices)}.")
