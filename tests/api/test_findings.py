"""/api/gardens/<garden>/findings: what is due, with its words."""

import pytest
from flask import Flask

from tests.api.builders import NOW_MS, Clock, Phone, a_garden, a_phone, error_of


def _season(phone: Phone, transplanted: str = "2026-04-20") -> tuple[str, str]:
    """A bed with a planting of peppers that has stood in it for six weeks."""
    bed = phone.bed(length_m=3, width_m=1)
    planting = phone.planting(bed["id"])
    subjects = {"bed": bed["id"], "planting": planting["id"]}
    happened_at = f"{transplanted}T09:00:00+02:00"
    phone.sync([bed, planting, phone.entry("transplant", {}, subjects, happened_at=happened_at)])
    return bed["id"], planting["id"]


def _findings(phone: Phone, query: str = "") -> dict[str, dict[str, object]]:
    response = phone.get(f"/findings{query}")
    assert response.status_code == 200, response.get_data(as_text=True)
    return {one["key"]: one for one in response.get_json()["findings"]}


def test_findings_say_as_of_when_by_what_and_in_words(lead: Phone, app: Flask) -> None:
    _, planting = _season(lead)
    answer = lead.get("/findings").get_json()
    assert answer["as_of_ms"] == NOW_MS
    assert answer["head"] == 3
    assert answer["today"] == "2026-06-01"
    assert answer["digest"] == app.extensions["shedbook"].rulebook["digest"]
    fed = next(one for one in answer["findings"] if one["rule"] == "side_dress")
    assert fed["subject"]["planting"] == planting
    assert fed["due"] is not None
    assert fed["text"]["source"]
    assert set(fed["text"]) == {"title", "message", "reasons", "source", "caution"}


def test_an_entry_that_settles_a_finding_removes_it_at_the_next_read(lead: Phone) -> None:
    bed, planting = _season(lead)
    key = f"side_dress/planting:{planting}/1"
    assert key in _findings(lead)
    feed = {"product": "compost", "amount_g": 500}
    subjects = {"bed": bed, "planting": planting}
    happened_at = "2026-05-20T09:00:00+02:00"
    answer = lead.push_one(lead.entry("feed", feed, subjects, happened_at=happened_at))
    assert answer["result"] == "accepted", answer
    assert key not in _findings(lead)


def test_findings_can_be_asked_for_by_state_and_by_bed(lead: Phone) -> None:
    bed, _ = _season(lead)
    other, _ = _season(lead)
    states = {str(one["state"]) for one in _findings(lead).values()}
    assert len(states) > 1
    for state in states:
        assert {one["state"] for one in _findings(lead, f"?state={state}").values()} == {state}
    of_bed = _findings(lead, f"?bed={bed}")
    assert of_bed
    assert all(one["subject"]["bed"] == bed for one in of_bed.values())  # type: ignore[index]
    assert not set(of_bed) & set(_findings(lead, f"?bed={other}"))


def test_another_day_may_be_asked_about_and_leaves_today_as_it_is(lead: Phone) -> None:
    _season(lead)
    now = _findings(lead)
    answer = lead.get("/findings?today=2026-07-20").get_json()
    assert answer["today"] == "2026-07-20"
    later = {one["key"]: one for one in answer["findings"]}
    key = next(key for key in now if key.startswith("side_dress/"))
    assert later[key]["state"] == "overdue"
    assert _findings(lead) == now


def test_the_day_is_the_one_of_the_garden(lead: Phone, clock: Clock) -> None:
    # 22:30 in London is half past midnight in Madrid.
    clock.ms = NOW_MS + (12 * 60 + 30 + 120) * 60_000
    assert lead.get("/findings").get_json()["today"] == "2026-06-02"


def test_a_withholding_ends_in_the_answer_at_the_second_that_it_ends(
    lead: Phone, clock: Clock
) -> None:
    bed, planting = _season(lead)
    details = {
        "method": "product",
        "product": "Label A",
        "registration_number": "1",
        "active_ingredient": "x",
        "total_amount": 1,
        "total_unit": "L",
        "area_m2": 3,
        "target": "aphids",
        "operator": "Lead",
        "started_at": "2026-06-01T09:00:00+02:00",
        "ended_at": "2026-06-01T10:00:00+02:00",
        "hours_to_reentry": 1,
        "days_to_harvest": 1,
    }
    subjects = {"bed": bed, "planting": planting}
    answer = lead.push_one(lead.entry("treat", details, subjects))
    assert answer["result"] == "accepted", answer
    before = {key for key, one in _findings(lead).items() if one.get("until") is not None}
    assert before
    ends = min(int(str(_findings(lead)[key]["until"])) for key in before)
    clock.ms = ends * 1000 - 1000
    _findings(lead)
    clock.ms = ends * 1000
    still = {
        key
        for key, one in _findings(lead).items()
        if one.get("until") is not None and int(str(one["until"])) <= ends
    }
    assert still == set()


def test_values_of_the_query_are_checked(lead: Phone) -> None:
    for query, field in (("state=fine", "state"), ("bed=north", "bed"), ("today=1.6.", "today")):
        response = lead.get(f"/findings?{query}")
        assert response.status_code == 422
        assert list(error_of(response)["fields"]) == [field]


def test_an_empty_garden_has_no_findings(app: Flask) -> None:
    phone = a_phone(app, a_garden(app, "Empty"))
    answer = phone.get("/findings").get_json()
    assert (answer["findings"], answer["head"]) == ([], 0)


@pytest.mark.parametrize(
    "subjects", [{"plants": 5}, {"plants": None}, {"bed": [1]}, {"planting": {}}, {"plants": ["a"]}]
)
def test_an_unknown_kind_with_odd_subjects_is_set_aside_and_stops_nothing(
    lead: Phone, subjects: dict[str, object]
) -> None:
    odd = lead.entry("moonlight", {"lux": 1})
    odd["subjects"] = subjects
    assert lead.push_one(odd)["result"] == "set_aside"
    assert lead.get("/findings").status_code == 200


def test_plants_counted_in_a_decimal_number_are_found(lead: Phone) -> None:
    bed = lead.bed()
    planting = lead.planting(bed["id"], plants=5.0)
    subjects = {"bed": bed["id"], "planting": planting["id"]}
    lead.sync([bed, planting, lead.entry("transplant", {}, subjects)])
    assert lead.get("/findings").status_code == 200
