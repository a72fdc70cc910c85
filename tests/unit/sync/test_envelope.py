"""What surrounds an entry's details, read without a store."""

from typing import Any

import pytest

from shedbook.sync.envelope import Readable, Unreadable, read_entry
from tests.api.builders import NOW_MS, Phone, an_id

PHONE = Phone(None, an_id(), an_id(), an_id())  # type: ignore[arg-type]


def _read(entry: Any) -> Readable | Unreadable:
    return read_entry(entry, PHONE.garden, PHONE.notebook, NOW_MS)


def test_a_good_entry_is_read_without_problems() -> None:
    entry = PHONE.entry()
    read = _read(entry)
    assert isinstance(read, Readable)
    assert (read.id, read.number, read.entry) == (entry["id"], entry["number"], entry)
    assert (read.problems, read.remarks) == ({}, {})


def test_what_the_shed_adds_is_taken_off_again() -> None:
    entry = PHONE.entry()
    stored = entry | {"seq": 4, "order": entry["clock"], "received_at": NOW_MS}
    read, plain = _read(stored), _read(entry)
    assert isinstance(read, Readable)
    assert read == plain


def test_content_does_not_depend_on_notebook_and_number() -> None:
    entry = PHONE.entry()
    read = _read(entry)
    other = read_entry(entry | {"notebook": an_id(), "number": 99}, PHONE.garden, "", NOW_MS)
    moved = entry | {"number": 99}
    again = _read(moved)
    assert isinstance(read, Readable)
    assert isinstance(again, Readable)
    assert read.content_hash == again.content_hash
    assert isinstance(other, Unreadable)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"id": "x"}, "id"),
        ({"id": None}, "id"),
        ({"number": 0}, "number"),
        ({"number": True}, "number"),
        ({"number": 1.5}, "number"),
        ({"number": 2**70}, "number"),
        ({"garden": an_id()}, "garden"),
        ({"notebook": an_id()}, "notebook"),
    ],
)
def test_an_entry_that_has_no_place_is_unreadable_by_that_field(
    changed: dict[str, Any], field: str
) -> None:
    read = _read(PHONE.entry(**changed))
    assert isinstance(read, Unreadable)
    assert field in read.problems


@pytest.mark.parametrize("raw", [None, 7, "entry", [], True])
def test_what_is_no_object_is_unreadable(raw: object) -> None:
    assert _read(raw) == Unreadable(None, None, {"_schema": ["An entry must be an object."]})


@pytest.mark.parametrize(
    "changed",
    [
        {"kind": 5},
        {"version": "1"},
        {"subjects": None},
        {"details": []},
        {"clock": "z"},
        {"person": None},
        {"device": 3},
        {"happened_at": "yesterday"},
    ],
    ids=str,
)
def test_whatever_else_is_wrong_can_still_be_set_aside(changed: dict[str, Any]) -> None:
    read = _read(PHONE.entry() | changed)
    assert isinstance(read, Readable)
    assert set(read.problems) == set(changed)
