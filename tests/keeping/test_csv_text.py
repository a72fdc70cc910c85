"""CSV that spreadsheets open, that runs nothing, and that gives the same texts back."""

import csv
import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedbook.keeping.csv_text import (
    CsvUnreadable,
    guarded,
    read_table,
    unguarded,
    write_table,
)

# Spaces around a cell are dropped at reading, and a row of nothing is no row.
TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=20).map(
    str.strip
)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "'=1", "''-x"])
def test_a_text_that_begins_like_a_formula_gets_an_apostrophe(text: str) -> None:
    assert guarded(text) == f"'{text}"
    assert unguarded(guarded(text)) == text


@pytest.mark.parametrize("text", ["", "Long bed", "'tis", "3-4", "a=b"])
def test_any_other_text_stays_as_it_is(text: str) -> None:
    assert guarded(text) == text
    assert unguarded(text) == text


def test_a_table_is_utf_8_with_a_mark_and_lines_that_end_as_rfc_4180_says(tmp_path: Path) -> None:
    file = tmp_path / "table.csv"
    write_table(
        file, ["Lowest (°C)", "Note"], [[-3.5, 'said "no", twice\nthen left'], [None, "=1"]]
    )
    assert file.read_bytes() == (
        b'\xef\xbb\xbfLowest (\xc2\xb0C),Note\r\n-3.5,"said ""no"", twice\nthen left"\r\n,\'=1\r\n'
    )


@given(rows=st.lists(st.tuples(TEXTS, TEXTS), max_size=6))
def test_what_is_written_is_read_again(rows: list[tuple[str, str]]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "table.csv"
        write_table(file, ["One", "Two"], rows)
        headers, read = read_table(file)
    assert headers == ["One", "Two"]
    assert [tuple(cells) for _, cells in read] == [row for row in rows if any(row)]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_cells_kept_apart_in_other_ways_are_read(tmp_path: Path, delimiter: str) -> None:
    file = tmp_path / "table.csv"
    with file.open("w", encoding="utf-8", newline="") as opened:
        writer = csv.writer(opened, delimiter=delimiter)
        writer.writerows([["Day", "Note"], [], ["2026-06-01", "two\nlines"], ["2026-06-02", "x"]])
    headers, rows = read_table(file)
    assert headers == ["Day", "Note"]
    assert rows == [(3, ["2026-06-01", "two\nlines"]), (5, ["2026-06-02", "x"])]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("Größe;1".encode("latin-1"), "Save it as CSV UTF-8"),
        (b'a,b\n"c', "line 2"),
        (b"", "is empty"),
        (b"\n \n", "is empty"),
    ],
)
def test_a_file_that_is_no_table_is_said_so(tmp_path: Path, content: bytes, said: str) -> None:
    file = tmp_path / "table.csv"
    file.write_bytes(content)
    with pytest.raises(CsvUnreadable, match=said):
        read_table(file)
