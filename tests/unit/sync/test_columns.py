"""Pages in columns: whatever the log holds comes out of them as it was, in Python and on phones."""

import json
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shedbook.log.content import canonical
from shedbook.sync.columns import in_columns
from tests.builders import Book, an_entry
from tests.columns import Entry, entries_in

RUNNER = Path(__file__).parents[2] / "twins" / "pages.mjs"
RECEIVED_MS = 1_780_300_800_000


class Row(NamedTuple):
    """A row of the log, as it is read for a page."""

    body: str
    seq: int
    order: str
    received_at_ms: int


Unpack = Callable[[Any], list[Entry]]


@pytest.fixture(scope="module")
def on_phone() -> Iterator[Unpack]:
    """The phone's way back, in one process for all pages."""
    command = [shutil.which("node") or "node", str(RUNNER)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as phone:
        assert phone.stdin
        assert phone.stdout
        source, answers = phone.stdin, phone.stdout

        def unpack(page: Any) -> list[Entry]:
            source.write(json.dumps(page).encode() + b"\n")
            source.flush()
            told: list[Entry] = json.loads(answers.readline())
            return told

        yield unpack
        phone.stdin.close()


def a_log(entries: list[Entry], first: int = 1) -> list[Row]:
    """Rows of a log that holds these entries."""
    return [
        Row(json.dumps(entry), seq, entry["clock"], RECEIVED_MS + seq // 3)
        for seq, entry in enumerate(entries, first)
    ]


def stored(row: Row) -> Entry:
    """The entry of a row with what the shed adds to it."""
    added = {"seq": row.seq, "order": row.order, "received_at": row.received_at_ms}
    entry: Entry = json.loads(row.body) | added
    return entry


def exact(entries: list[Entry]) -> str:
    """A text that is another one for True and 1, and for 1.0 and 1."""
    return json.dumps(entries, sort_keys=True)


def same_content(entries: list[Entry]) -> list[tuple[bytes, Any]]:
    """The content, and what is not content; JSON has one kind of number on a phone."""
    beside = ("notebook", "number", "seq", "order", "received_at")
    return [(canonical(entry), [entry[name] for name in beside]) for entry in entries]


CHARACTERS = st.sampled_from("ab") | st.characters(exclude_categories=["Cs"])
TEXTS = st.text(CHARACTERS, max_size=6)
NAMES = st.sampled_from(["a", "b", "as", "same", "values", "at", "__proto__", "1", "näme"]) | TEXTS
SCALARS = st.one_of(
    st.sampled_from([None, True, False, 0, 1, 1.0, -0.0, "", "1"]),
    st.integers(-(2**53), 2**53),
    # Above, a phone and Python write the same number in other digits.
    st.floats(-(2.0**53), 2.0**53),
    TEXTS,
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(NAMES, inner, max_size=3),
    max_leaves=4,
)
FEW = st.dictionaries(st.sampled_from(["x", "y", "__proto__"]), SCALARS, max_size=2)
EXTRA = st.dictionaries(st.sampled_from(["mends", "answers", "extra", "__proto__"]), SCALARS)


@st.composite
def logs(draw: st.DrawFn) -> list[Entry]:
    """Entries of known kinds and of kinds from a newer phone, some of them alike."""
    entries = []
    for number in range(draw(st.integers(1, 12))):
        entry = an_entry(draw(st.sampled_from(["pick", "water", "note", "void", "rain"])))
        entry |= {"number": number + 1, "notebook": draw(st.sampled_from(["one", "other"]))}
        if draw(st.booleans()):
            details = FEW | st.dictionaries(NAMES, VALUES, max_size=3)
            entry |= {"kind": draw(st.sampled_from(["pick", "measure_sap"]))}
            entry |= {"details": draw(details), "subjects": draw(FEW)}
        entries.append(draw(EXTRA) | entry)
    return entries


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(entries=logs(), first=st.integers(1, 2**40))
def test_any_log_comes_out_of_columns_as_it_went_in(
    on_phone: Unpack, entries: list[Entry], first: int
) -> None:
    rows = a_log(entries, first)
    wanted = [stored(row) for row in rows]
    page = json.loads(json.dumps(in_columns(rows)))
    assert exact(entries_in(page)) == exact(wanted)
    assert same_content(on_phone(page)) == same_content(wanted)


def a_season(days: int = 60) -> list[Entry]:
    """What one phone writes of two beds, day by day."""
    book = Book()
    beds = [book.write("bed")["id"] for _ in range(2)]
    for day in range(days):
        for bed in beds:
            book.write("water", {"volume_l": 10 + day % 7}, bed=bed)
            book.write("pick", {"count": day}, bed=bed)
    return book.entries


def test_what_repeats_is_told_once() -> None:
    page = in_columns(a_log(a_season()))
    table = next(one for one in page["tables"] if one["details"] == ("volume_l",))
    told = dict(zip(table["names"], table["columns"], strict=False))
    assert told["kind"] == {"same": "water"}
    assert told["order"] == {"as": table["names"].index("clock")}
    assert told["happened_at"]["prefix"].startswith("2026-06-01T")
    beds = table["columns"][len(table["names"])]
    assert (len(beds["values"]), set(beds["at"])) == (2, {0, 1})


def test_a_page_in_columns_is_a_third_of_its_rows_at_most() -> None:
    rows = a_log(a_season())
    text = json.dumps(in_columns(rows), separators=(",", ":"))
    assert len(text) * 3 < sum(len(json.dumps(stored(row))) for row in rows)


@pytest.mark.parametrize("pair", [(True, 1), (1, 1.0), (0, False), ("1", 1), (None, False)])
def test_values_that_equal_each_other_stay_apart(on_phone: Unpack, pair: tuple[Any, Any]) -> None:
    one, other = pair
    figures = [{"x": one, "y": other}, {"x": other, "y": one}] * 3
    rows = a_log([an_entry("measure_sap", details=details) for details in figures])
    page = json.loads(json.dumps(in_columns(rows)))
    assert exact(entries_in(page)) == exact([stored(row) for row in rows])
    assert same_content(on_phone(page)) == same_content([stored(row) for row in rows])
