"""CSV as RFC 4180 has it and as spreadsheets open it: UTF-8 with a mark, CRLF, quotes where needed.

A spreadsheet takes a cell that begins with = + - @ or a tab for a formula, and a note may come from
anyone. Such a text gets an apostrophe in front. A figure does not: -3.5 degrees must stay a number.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

ENCODING = "utf-8-sig"

Cell = str | int | float | None

# An apostrophe that was there before is counted in, so that taking one off gives the text back.
_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_GUARDED = re.compile(r"'+[=+\-@\t\r]")
_DELIMITERS = ",;\t"


class CsvUnreadable(Exception):
    """The file is no table of text in UTF-8."""


def guarded(text: str) -> str:
    """A text that no spreadsheet takes for a formula."""
    return f"'{text}" if _FORMULA.match(text) else text


def unguarded(text: str) -> str:
    """The text that was guarded."""
    return text[1:] if _GUARDED.match(text) else text


def write_table(file: Path, headers: Sequence[str], rows: Iterable[Sequence[Cell]]) -> None:
    """Write one CSV file."""
    with file.open("w", encoding=ENCODING, newline="") as opened:
        writer = csv.writer(opened, lineterminator="\r\n")
        writer.writerow([guarded(header) for header in headers])
        for row in rows:
            writer.writerow([guarded(cell) if isinstance(cell, str) else cell for cell in row])


def read_table(file: Path) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """The headers, and each row that is not blank with the line that it begins on.

    Cells may be kept apart by commas, semicolons or tabs, whichever the first line has most of.
    """
    try:
        # As bytes first: reading as text would turn a return within a cell into a line feed.
        text = file.read_bytes().decode(ENCODING)
    except UnicodeDecodeError as error:
        raise CsvUnreadable(f"{file} is not in UTF-8. Save it as CSV UTF-8.") from error
    first = text.partition("\n")[0]
    delimiter = max(_DELIMITERS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows = []
    begins = 1
    try:
        for row in reader:
            if any(cell.strip() for cell in row):
                rows.append((begins, [unguarded(cell.strip()) for cell in row]))
            begins = reader.line_num + 1
    except csv.Error as error:
        raise CsvUnreadable(f"{file}, line {begins}: {error}.") from error
    if not rows:
        raise CsvUnreadable(f"{file} is empty.")
    return rows[0][1], rows[1:]
