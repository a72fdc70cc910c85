"""The short look at an entry never passes what the full check would speak of."""

import json
import tracemalloc
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from marshmallow import ValidationError

from shedbook.log.check import Checked, check_closely, check_details, check_entry, schema_of
from shedbook.log.content import canonical, content_hash, write_evident
from shedbook.log.evident import Form, are_evident, form_of, is_evident
from shedbook.log.kinds import KINDS
from shedbook.log.kinds import fields as f
from shedbook.log.plain import forbidden_values, overlong_texts
from tests.builders import LEAST_DETAILS, START, an_entry

NOW = START + 3600
# These change a place, tell another entry again, or need a part that few entries have.
LOOKED_AT_CLOSELY = {"bed", "planting", "plant", "garden", "setting", "correct", "decline"}
WITH_FORM = sorted(name for name in KINDS if form_of(name) is not None)

ODD: list[Any] = [
    None, True, False, 0, 1, -1, 5.0, 0.5, 2**31, 2**53, 1e16, 1e300, float("nan"), float("inf"),
    "", "x", "hand", "x" * 121, "x" * 4001, "nul\x00", "half \ud800", "2026-06-01", "2026-02-30",
    "2026-06-01T07:40:00+02:00", "2026-06-01T24:00:00+02:00", "1999-12-31T23:59:59+00:00",
    "2150-01-01T00:00:00+00:00", "02-29", "13-01", "019dd2b0-7a41-7c3e-9f60-5b1e0c2d4a77",
    "019DD2B0-7A41-7C3E-9F60-5B1E0C2D4A77", [], [1], ["leaf_curled"], [1, 1], [[]], {}, {"a": 1},
    [float("nan")], ["019dd2b0-7a41-7c3e-9f60-5b1e0c2d4a77"] * 2,
]  # fmt: skip
odd_values = st.sampled_from(ODD) | st.integers() | st.floats() | st.text(max_size=5)


def values_of(field: Any) -> st.SearchStrategy[Any]:
    """What the field may hold, some of it unusual."""
    bounds = field.metadata
    if isinstance(field, f.IntegerField):
        return st.integers(bounds["min"], bounds["max"])
    if isinstance(field, f.NumberField):
        return st.floats(bounds["min"], bounds["max"]) | st.integers(
            int(bounds["min"]) + 1, int(bounds["max"])
        )
    if isinstance(field, f.TextField):
        return st.text(min_size=1, max_size=20)
    if isinstance(field, f.ChoiceField):
        return st.sampled_from(bounds["choices"])
    return odd_values


@st.composite
def details_of(draw: st.DrawFn, kind: str, odd: bool) -> dict[str, Any]:
    """Details that mostly fit the kind; `odd` ones have something of everything in them."""
    fields = {one.data_key or name: one for name, one in schema_of(kind).fields.items()}
    names = draw(st.lists(st.sampled_from(sorted(fields)), unique=True, max_size=6))
    details = dict(LEAST_DETAILS.get(kind, {}))
    details |= {name: draw(values_of(fields[name])) for name in names}
    if odd:
        for name in draw(st.lists(st.sampled_from([*fields, "lux"]), max_size=2)):
            details[name] = draw(odd_values)
        for name in draw(st.lists(st.sampled_from(sorted(details) or ["lux"]), max_size=1)):
            details.pop(name, None)
    return details


@st.composite
def entries(draw: st.DrawFn) -> dict[str, Any]:
    """Whole entries, with up to two of their parts put wrong."""
    kind = draw(st.sampled_from(sorted(KINDS)))
    entry = an_entry(kind)
    if draw(st.booleans()):
        entry["details"] = draw(details_of(kind, odd=draw(st.booleans())))
    for _ in range(draw(st.integers(0, 2))):
        place: dict[str, Any] = draw(st.sampled_from([entry, entry, entry.get("subjects", {})]))
        name = draw(st.sampled_from([*sorted(entry), "bed", "planting", "plants", "mends", "lux"]))
        if isinstance(place, dict) and draw(st.booleans()):
            place[name] = draw(odd_values)
        elif isinstance(place, dict):
            place.pop(name, None)
    return entry


def says_evident(form: Form, details: dict[str, Any]) -> bool:
    try:
        return are_evident(form, details)
    except (KeyError, TypeError, ValueError, ValidationError):
        return False


def test_every_kind_of_work_and_weather_has_a_form() -> None:
    assert set(KINDS) - set(WITH_FORM) == LOOKED_AT_CLOSELY


@pytest.mark.parametrize("kind", WITH_FORM)
@settings(max_examples=25)
@given(data=st.data())
def test_details_when_evident_then_the_schema_has_nothing_to_say(
    kind: str, data: st.DataObject
) -> None:
    form = form_of(kind)
    assert form is not None
    details = data.draw(details_of(kind, odd=data.draw(st.booleans())))
    if not says_evident(form, details):
        return
    assert schema_of(kind).validate(details) == {}
    assert check_details(KINDS[kind], an_entry(kind)["subjects"], details).remarks == {}
    assert forbidden_values(details) == overlong_texts(details, "details") == {}


@pytest.mark.parametrize("kind", WITH_FORM)
@settings(max_examples=25)
@given(data=st.data())
def test_details_when_nothing_is_to_be_said_then_they_are_evident(
    kind: str, data: st.DataObject
) -> None:
    form = form_of(kind)
    assert form is not None
    details = data.draw(details_of(kind, odd=False))
    checked = check_details(KINDS[kind], an_entry(kind)["subjects"], details)
    speaks = checked.problems or checked.remarks or forbidden_values(details)
    assert says_evident(form, details) == (not speaks)


@settings(max_examples=800)
@given(entry=entries())
def test_entry_when_evident_then_the_full_check_has_nothing_to_say(entry: dict[str, Any]) -> None:
    if is_evident(entry, NOW):
        assert check_closely(entry, NOW) == Checked()
    assert check_entry(entry, NOW) == check_closely(entry, NOW)


@settings(max_examples=300)
@given(entry=entries())
def test_evident_entry_when_written_then_as_by_the_encoder(entry: dict[str, Any]) -> None:
    if not is_evident(entry, NOW):
        return
    written = write_evident(entry)
    assert written.content_hash == content_hash(entry)
    stored = json.loads(written.body)
    assert stored == entry
    assert canonical(stored) == canonical(entry)


def test_entry_when_from_tomorrow_then_it_is_looked_at_closely() -> None:
    assert is_evident(an_entry(), START - 86_400)
    assert not is_evident(an_entry(), START - 86_401)
    assert is_evident(an_entry(), None)


@pytest.mark.parametrize("subjects", [[], "", ["bed"], None, 1])
@pytest.mark.parametrize("kind", WITH_FORM)
def test_entry_when_its_subjects_are_no_object_then_it_is_looked_at_closely(
    kind: str, subjects: Any
) -> None:
    assert not is_evident(an_entry(kind) | {"subjects": subjects}, NOW)


@pytest.mark.parametrize("name", ["kind", "garden", "person", "device", "happened_at"])
def test_entries_when_they_hold_long_texts_then_none_is_remembered(name: str) -> None:
    # Once before, so that what is made at the first look does not count.
    assert not is_evident(an_entry() | {name: "x"}, NOW)
    tracemalloc.start()
    try:
        for number in range(20):
            assert not is_evident(an_entry() | {name: f"{number}" + "x" * 100_000}, NOW)
        kept_bytes, _ = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert kept_bytes < 100_000
