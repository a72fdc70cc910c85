"""A page of the log in columns, turned back into its entries as a program in Python would."""

from collections.abc import Iterator, Mapping
from typing import Any

Entry = dict[str, Any]


def entries_in(page: Mapping[str, Any]) -> list[Entry]:
    """The entries of a page, in the order of the log."""
    rows = [_rows(table) for table in page["tables"]]
    return [
        next(rows[table]) | {"seq": seq} for seq, table in enumerate(page["order"], page["first"])
    ]


def _rows(table: Mapping[str, Any]) -> Iterator[Entry]:
    names, subjects, details = table["names"], table["subjects"], table["details"]
    row = 0
    while True:
        cells = [_cell(table["columns"], column, row) for column in table["columns"]]
        own, rest = cells[: len(names)], cells[len(names) :]
        yield dict(zip(names, own, strict=True)) | {
            "subjects": dict(zip(subjects, rest[: len(subjects)], strict=True)),
            "details": dict(zip(details, rest[len(subjects) :], strict=True)),
        }
        row += 1


def _cell(columns: list[Any], column: Any, row: int) -> Any:
    if isinstance(column, list):
        return column[row]
    if "same" in column:
        return column["same"]
    if "rest" in column:
        return column["prefix"] + column["rest"][row]
    if "as" in column:
        return _cell(columns, columns[column["as"]], row)
    return column["values"][column["at"][row]]
