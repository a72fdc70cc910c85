"""/api/gardens/<garden>/set-aside: what could not go into the log."""

import json

from tests.api.builders import NOW_MS, Phone


def test_what_was_set_aside_is_listed_with_its_text_and_reasons(lead: Phone) -> None:
    bad = lead.entry("note", {"text": "x" * 4001}, note="Ü")
    lead.sync([bad])
    (listed,) = lead.get("/set-aside").get_json()["entries"]
    raw = listed.pop("raw")
    problems = listed.pop("problems")
    assert json.loads(raw) == bad
    assert list(problems) == ["details.text"]
    assert listed == {
        "id": bad["id"],
        "notebook": lead.notebook,
        "number": 1,
        "person": lead.person,
        "received_at_ms": NOW_MS,
    }


def test_nothing_set_aside_is_an_empty_list(reader: Phone) -> None:
    assert reader.get("/set-aside").get_json() == {"entries": []}
