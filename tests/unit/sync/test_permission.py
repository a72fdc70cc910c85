"""Who may write what, decided by the person that an entry names."""

from typing import Any

import pytest

from shedbook.records.entries import KnownEntry, makes_wait
from shedbook.records.models import SetAside
from shedbook.records.people import Paired
from shedbook.sync.permission import (
    refusal_of_changing_crop,
    refusal_of_deciding,
    refusal_of_mending,
    refusal_of_sender,
)
from tests.api.builders import an_id

ANA, BEN = an_id(), an_id()
ROOT = an_id()


def _paired(role: str, person: str = ANA) -> Paired:
    return Paired("g", "Home", "UTC", "d", "phone", person, "Ana", role)


def _known(kind: str, person: str) -> dict[str, KnownEntry]:
    return {ROOT: KnownEntry(ROOT, 1, "0" * 16, kind, person, "hash", {})}


def _mending(kind: str = "void") -> dict[str, Any]:
    return {"kind": kind, "details": {"entry": ROOT}, "person": ANA}


@pytest.mark.parametrize(
    ("role", "person", "fields"),
    [
        ("lead", ANA, []),
        ("lead", BEN, []),
        ("helper", ANA, []),
        ("helper", BEN, ["person"]),
        ("reader", ANA, ["person"]),
    ],
)
def test_a_sender_writes_in_its_own_name_a_lead_in_any_a_reader_in_none(
    role: str, person: str, fields: list[str]
) -> None:
    assert list(refusal_of_sender(_paired(role), {"person": person})) == fields


@pytest.mark.parametrize("mending", ["void", "correct"])
@pytest.mark.parametrize(
    ("role", "kind", "writer", "fields"),
    [
        ("helper", "pick", ANA, []),
        ("helper", "pick", BEN, ["details.entry"]),
        ("helper", "treat", ANA, ["details.entry"]),
        ("helper", "treat", BEN, ["details.entry"]),
        ("lead", "pick", BEN, []),
        ("lead", "treat", BEN, []),
    ],
)
def test_a_helper_mends_own_entries_but_no_treatment(
    mending: str, role: str, kind: str, writer: str, fields: list[str]
) -> None:
    refusal = refusal_of_mending(_paired(role), _mending(mending), _known(kind, writer), {})
    assert list(refusal) == fields
    assert all(text.endswith(".") for texts in refusal.values() for text in texts)


def test_a_helper_mends_only_what_the_shed_has() -> None:
    assert list(refusal_of_mending(_paired("helper"), _mending(), {}, {})) == ["details.entry"]
    assert refusal_of_mending(_paired("lead"), _mending(), {}, {}) == {}


@pytest.mark.parametrize(("writer", "fields"), [(ANA, []), (BEN, ["mends"])])
def test_a_helper_replaces_only_own_entries_that_were_set_aside(
    writer: str, fields: list[str]
) -> None:
    entry = {"kind": "note", "details": {}, "mends": ROOT}
    aside = {ROOT: SetAside(entry_id=ROOT, person_id=writer)}
    assert list(refusal_of_mending(_paired("helper"), entry, {}, aside)) == fields


@pytest.mark.parametrize(
    ("role", "answers", "fields"),
    [
        ("helper", "harvest_wait/planting:p/t1", ["answers"]),
        ("helper", "reentry_wait/bed:b/t1", ["answers"]),
        ("helper", "manure_wait/planting:p/m1", ["answers"]),
        ("lead", "harvest_wait/planting:p/t1", []),
        ("helper", "harvest_wait/planting:p/flag.k1", ["answers"]),
        ("helper", "manure_wait/planting:p/flag.k1", ["answers"]),
        ("helper", "store_lot/planting:p/s1", ["answers"]),
        ("lead", "store_lot/planting:p/s1", []),
        ("helper", "reentry_wait/bed:b/flag.k1", []),
        ("helper", "wet_leaves/bed:b/flag.k1", []),
        ("helper", "even_water_first/planting:p/d1", []),
        ("helper", "scout_weekly/planting:p/1", []),
        ("helper", "", []),
        ("helper", "moonlight", []),
    ],
)
def test_a_helper_decides_on_no_wait_nor_fruit_but_says_why_work_was_done_inside_one(
    role: str, answers: str, fields: list[str]
) -> None:
    entry = {"kind": "decline", "details": {"reason": "dry"}, "answers": answers}
    assert list(refusal_of_deciding(_paired(role), entry)) == fields


@pytest.mark.parametrize("mending", ["void", "correct"])
@pytest.mark.parametrize(("role", "fields"), [("helper", ["details.entry"]), ("lead", [])])
def test_a_helper_mends_no_feed_that_makes_a_wait(
    mending: str, role: str, fields: list[str]
) -> None:
    known = {ROOT: KnownEntry(ROOT, 1, "0" * 16, "feed", ANA, "hash", {}, makes_wait=True)}
    assert list(refusal_of_mending(_paired(role), _mending(mending), known, {})) == fields


@pytest.mark.parametrize(
    ("kind", "details", "expected"),
    [
        ("treat", {"method": "water_jet"}, True),
        ("feed", {"origin": "raw_manure"}, True),
        ("feed", {"origin": "compost"}, False),
        ("feed", {}, False),
        ("correct", {"kind": "feed", "restated": {"origin": "raw_manure"}}, True),
        ("correct", {"kind": "feed", "restated": {"origin": "compost"}}, False),
        ("correct", {"kind": "feed", "restated": "raw_manure"}, False),
        ("void", {}, False),
    ],
)
def test_treatments_and_raw_manure_make_a_wait(
    kind: str, details: dict[str, Any], expected: bool
) -> None:
    assert makes_wait({"kind": kind, "details": details}) is expected


@pytest.mark.parametrize(
    ("role", "entry_id", "kind", "details", "fields"),
    [
        ("helper", ROOT, "planting", {"crop": "pepper"}, []),
        ("helper", "later", "planting", {"crop": "pepper"}, ["details.crop"]),
        ("helper", "later", "planting", {"variety": "long"}, []),
        ("lead", "later", "planting", {"crop": "pepper"}, []),
        (
            "helper",
            "later",
            "correct",
            {"kind": "planting", "restated": {"crop": "pepper"}},
            ["details.crop"],
        ),
        ("helper", "later", "correct", {"kind": "planting", "restated": "pepper"}, []),
        ("helper", "later", "correct", {"kind": "pick", "restated": {"count": 1}}, []),
        ("helper", "later", "wish", {"crop": "pepper"}, []),
    ],
)
def test_a_helper_makes_no_other_crop_of_a_planting_that_is_there(
    role: str, entry_id: str, kind: str, details: dict[str, Any], fields: list[str]
) -> None:
    entry = {"id": entry_id, "kind": kind, "subjects": {"planting": ROOT}, "details": details}
    assert list(refusal_of_changing_crop(_paired(role), entry)) == fields
