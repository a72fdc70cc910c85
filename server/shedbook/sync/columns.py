"""Pages of the log in columns: a third of the text that rows are, of the same entries, and seven
tenths of their bytes on the wire.

A page is `{"first": 1, "order": [0, 0, 1], "tables": [...]}`. `first` is the `seq` of its first
entry; each further entry has the next one. `order` tells for each entry in which table it stands:
in the next row of that table that was not told yet.

A table holds the entries that have the same names: `{"names": [...], "subjects": [...],
"details": [...], "columns": [...]}`. The columns are first those of `names`, which stand in the
entry itself, then those of `subjects` and of `details`, which stand in the objects of that name.

A column is one of
- `[20, 35, 20]`: the value of each row;
- `{"same": "water"}`: the value of every row;
- `{"values": ["a", "b"], "at": [0, 1, 0]}`: each row's value is the one at that place;
- `{"prefix": "2026-06-", "rest": ["01", "02"]}`: each row's text is the prefix and its rest;
- `{"as": 2}`: what the column at that place of the table's columns says.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Any, Protocol

# Of these a column holds one type only where it is told shorter: True equals 1, and 1.0 does.
_TOLD_APART = (frozenset({str}), frozenset({int}), frozenset({bool}), frozenset({type(None)}))

# So many entries are parsed at a time: as objects a whole page would take ten megabytes.
_PARSED = 200


class LogRow(Protocol):
    """What is read of a row of the log."""

    body: str
    seq: int
    order: str
    received_at_ms: int


class _Table:
    def __init__(self, number: int) -> None:
        self.number = number
        self.rows: list[tuple[Any, ...]] = []


_Shape = tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]


def in_columns(rows: Iterable[LogRow]) -> dict[str, Any]:
    """The page of these rows, which follow each other in the log."""
    tables: dict[_Shape, _Table] = {}
    order: list[int] = []
    first = 0
    one_by_one = iter(rows)
    while some := list(islice(one_by_one, _PARSED)):
        first = first or some[0].seq
        order += _sort_in(tables, some)
    return {
        "first": first,
        "order": order,
        "tables": [
            {
                "names": names,
                "subjects": subjects,
                "details": details,
                "columns": list(_columns(table.rows)),
            }
            for (names, subjects, details), table in tables.items()
        ],
    }


def _sort_in(tables: dict[_Shape, _Table], rows: Sequence[LogRow]) -> Iterator[int]:
    """Put each row in the table of its shape; the numbers of those tables."""
    # Parsed as one text: names that all entries share are then one object each.
    entries: list[dict[str, Any]] = json.loads(f"[{','.join([row.body for row in rows])}]")
    for row, entry in zip(rows, entries, strict=True):
        subjects, details = entry.pop("subjects"), entry.pop("details")
        entry["order"], entry["received_at"] = row.order, row.received_at_ms
        shape = (tuple(entry), tuple(subjects), tuple(details))
        table = tables.get(shape)
        if table is None:
            table = tables[shape] = _Table(len(tables))
        table.rows.append((*entry.values(), *subjects.values(), *details.values()))
        yield table.number


def _columns(rows: Sequence[tuple[Any, ...]]) -> Iterator[Any]:
    places: dict[tuple[type, tuple[Any, ...]], int] = {}
    for place, cells in enumerate(zip(*rows, strict=True)):
        if frozenset(map(type, cells)) not in _TOLD_APART:
            yield cells
            continue
        values = dict.fromkeys(cells)
        earlier = places.setdefault((type(cells[0]), cells), place)
        if len(values) == 1:
            yield {"same": cells[0]}
        elif earlier != place:
            yield {"as": earlier}
        elif len(values) * 2 <= len(cells):
            at = {value: number for number, value in enumerate(values)}
            yield {"values": list(values), "at": [at[cell] for cell in cells]}
        elif prefix := _common_prefix(cells):
            yield {"prefix": prefix, "rest": [cell[len(prefix) :] for cell in cells]}
        else:
            yield cells


def _common_prefix(cells: Sequence[Any]) -> str:
    """How all texts begin: what the first and the last of them in order have in common."""
    if not isinstance(cells[0], str):
        return ""
    first: str = min(cells)
    last: str = max(cells)
    pairs = enumerate(zip(first, last, strict=False))
    return first[: next((place for place, (one, other) in pairs if one != other), len(first))]
