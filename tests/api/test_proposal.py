"""/api/gardens/<garden>/proposal: a bed for each wish."""

import pytest

from tests.api.builders import Phone, error_of


def _wishing(phone: Phone) -> str:
    """A bed where a trouble was seen, and two wishes; the bed's id."""
    bed = phone.bed(length_m=4, width_m=1.25)
    spot = phone.entry("spot", {"trouble": "phytophthora_blight"}, {"bed": bed["id"]})
    wishes = [
        phone.entry("wish", {"crop": crop, "season": 2027, "area_m2": 4}, {})
        for crop in ("cabbage", "pumpkin")
    ]
    phone.sync([bed, spot, *wishes])
    return str(bed["id"])


def test_proposal_for_next_year_is_the_answer_when_no_season_is_named(lead: Phone) -> None:
    bed = _wishing(lead)
    answer = lead.get("/proposal").get_json()
    assert answer["season"] == 2027
    (told,) = answer["beds"]
    assert told["bed"] == bed
    assert [one["crop"] for one in told["placed"]] == ["cabbage"]
    assert [one["crop"] for one in answer["unmet"]] == ["pumpkin"]
    assert answer["unmet"][0]["reasons"][0]["key"] == "proposal.taken"
    assert answer["is_best"]


def test_proposal_for_another_season_has_its_own_wishes(lead: Phone) -> None:
    _wishing(lead)
    answer = lead.get("/proposal?season=2028").get_json()
    assert [bed["placed"] for bed in answer["beds"]] == [[]]
    assert answer["unmet"] == []


def test_proposal_writes_nothing_down(lead: Phone) -> None:
    _wishing(lead)
    head = lead.get("/findings").get_json()["head"]
    lead.get("/proposal")
    assert lead.get("/findings").get_json()["head"] == head


@pytest.mark.parametrize("season", ["next", "12", "2026.5"])
def test_proposal_for_what_is_no_year_says_so(lead: Phone, season: str) -> None:
    response = lead.get(f"/proposal?season={season}")
    assert response.status_code == 422
    assert "season" in error_of(response)["fields"]
