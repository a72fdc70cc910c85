"""Which column of a grower's own table says what, as it is written on the command line."""

import csv
import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shedbook.log.check import schema_of
from shedbook.log.kinds import KINDS

PLACES = ("date", "time", "bed", "planting", "plants", "kind")
# What an event is; beds and plantings are made in a form, and corrections need an entry to look at.
EVENT_KINDS = tuple(
    name
    for name, kind in KINDS.items()
    if not kind.structural and (kind.group != "book" or name == "note")
)


class MappingUnfit(Exception):
    """The words that map columns can't be understood."""


@dataclass(frozen=True)
class Columns:
    """Where each value of a row is: in a column, or the same for all rows.

    `headers` has the header of each mapped column for messages. A target is a place such as `bed`,
    a field such as `volume_l`, or a field of one kind such as `water.volume_l`.
    """

    positions: Mapping[str, int]
    headers: Mapping[str, str]
    fixed: Mapping[str, str]

    def text(self, target: str, cells: Sequence[str]) -> str:
        """What a row says for a target; empty when it says nothing."""
        position = self.positions.get(target)
        if position is None:
            return self.fixed.get(target, "")
        return cells[position] if position < len(cells) else ""

    def has(self, target: str) -> bool:
        """Whether a target was mapped at all."""
        return target in self.positions or target in self.fixed

    def label(self, target: str) -> str:
        """How a message calls the target: by the table's own header."""
        return self.headers.get(target, target)

    def plain_fields(self) -> list[str]:
        """The columns that are a field of whatever kind a row is of."""
        return sorted(name for name in self.positions if name not in PLACES and "." not in name)


def read_columns(
    headers: Sequence[str], mapped: Mapping[str, str], fixed: Mapping[str, str]
) -> Columns:
    """Find each mapped column. Raises MappingUnfit, which names what would be right."""
    for target in {**mapped, **fixed}:
        _check_target(target)
    if both := sorted(set(mapped) & set(fixed)):
        raise MappingUnfit(f"{both[0]} is given both as a column and as a fixed value.")
    if "date" not in mapped and "date" not in fixed:
        raise MappingUnfit("Say which column has the date, such as date=Day.")
    if "kind" not in mapped and "kind" not in fixed:
        raise MappingUnfit("Say what was done: kind=COLUMN, or --fixed kind=water for all rows.")
    return Columns(find_columns(headers, mapped), dict(mapped), dict(fixed))


def find_columns(headers: Sequence[str], mapped: Mapping[str, str]) -> dict[str, int]:
    """Where each mapped column is. Raises MappingUnfit for one that the table has not."""
    positions = {}
    for target, header in mapped.items():
        if header not in headers:
            near = difflib.get_close_matches(header, headers, n=1)
            hint = f" Did you mean {near[0]}?" if near else ""
            raise MappingUnfit(
                f"The table has no column {header}.{hint} Its columns are: {', '.join(headers)}."
            )
        positions[target] = headers.index(header)
    return positions


def read_pairs(texts: Sequence[str]) -> dict[str, str]:
    """`a=x,b=y` as pairs; a part with a comma in it is quoted as in CSV. Raises MappingUnfit."""
    pairs: dict[str, str] = {}
    for text in texts:
        for part in next(csv.reader([text]), []):
            name, equals, value = part.partition("=")
            if not equals or not name.strip() or not value.strip():
                raise MappingUnfit(f"{part!r} should be name=value, such as date=Day.")
            if name.strip() in pairs:
                raise MappingUnfit(f"{name.strip()} is given twice.")
            pairs[name.strip()] = value.strip()
    return pairs


def field_names(kind: str) -> list[str]:
    """The fields of a kind as they are called on the wire."""
    return [field.data_key or name for name, field in schema_of(kind).fields.items()]


def _check_target(target: str) -> None:
    kind, dot, field = target.rpartition(".")
    known = (
        set(field_names(kind))
        if kind in EVENT_KINDS
        else {name for one in EVENT_KINDS for name in field_names(one)} | set(PLACES)
        if not dot
        else set()
    )
    if field in known:
        return
    if dot and kind not in EVENT_KINDS:
        raise MappingUnfit(f"{kind} is no kind. The kinds are: {', '.join(EVENT_KINDS)}.")
    near = difflib.get_close_matches(field, sorted(known), n=1)
    hint = f" Did you mean {near[0]}?" if near else ""
    raise MappingUnfit(
        f"{target} is nothing that a column can be. It is one of {', '.join(PLACES)}, a field such "
        f"as volume_l, or a field of one kind such as water.volume_l.{hint}"
    )
