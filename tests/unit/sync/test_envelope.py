"""What surrounds an entry's details, read without a store."""

from typing import Any

import pytest

from shedbook.log.check import schema_of
from shedbook.log.content import body_of
from shedbook.log.kinds import KINDS
from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import MOST_PLANTS
from shedbook.sync.envelope import MOST_CHARACTERS, Readable, Unreadable, read_entry
from tests.api.builders import NOW_MS, Phone, an_id
from tests.builders import an_entry

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


def _longest(field: Any) -> Any:
    """As many characters as a form lets one write in the field."""
    if isinstance(field, f.TextField):
        # Each a sign that JSON writes as two.
        return "\n" * field.metadata["max_length"]
    if isinstance(field, f.ChoiceField):
        return max(field.metadata["choices"], key=len)
    if isinstance(field, f.NumberField):
        return -1_000_000.001
    if isinstance(field, f.IdListField):
        return [an_id()] * f.LONGEST_LIST
    if isinstance(field, f.NumberListField):
        return [f.LARGEST + 0.001] * f.LONGEST_LIST
    if isinstance(field, f.NameListField):
        return ["x" * 40] * f.LONGEST_LIST
    return "x" * 64


@pytest.mark.parametrize("kind", KINDS)
def test_entry_of_every_kind_at_its_longest_is_shorter_than_the_most(kind: str) -> None:
    details = {key: _longest(field) for key, field in schema_of(kind).fields.items()}
    entry = an_entry(kind, details=details, answers="x" * 200, mends=an_id())
    entry["subjects"] |= {"plants": list(range(1, MOST_PLANTS + 1))}
    assert len(body_of(entry)) <= MOST_CHARACTERS


def test_entry_that_is_larger_than_any_real_one_is_refused_with_its_size() -> None:
    room = MOST_CHARACTERS - len(body_of(PHONE.entry(details={"text": "x", "far": ""})))
    fitting = PHONE.entry(details={"text": "x", "far": ["x" * (room - 4)]})
    assert isinstance(_read(fitting | {"id": an_id()}), Readable)
    larger = PHONE.entry(details={"text": "x", "far": ["x" * 100] * 9000})
    read = _read(larger)
    assert isinstance(read, Unreadable)
    assert (read.id, read.number) == (larger["id"], larger["number"])
    assert read.problems == {
        "details": [
            f"An entry must be {MOST_CHARACTERS} characters of JSON at most; this one is "
            f"{len(body_of(larger))}."
        ]
    }
