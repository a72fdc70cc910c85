"""/api/gardens/<garden>/review: a season looked back on."""

import pytest

from tests.api.builders import Phone, error_of


def _picked(phone: Phone) -> str:
    bed = phone.bed(length_m=3, width_m=1)
    planting = phone.planting(bed["id"], plants=4)
    subjects = {"bed": bed["id"], "planting": planting["id"]}
    out = phone.entry("transplant", {}, subjects, happened_at="2026-04-20T09:00:00+02:00")
    pick = phone.entry("pick", {"count": 8}, subjects, happened_at="2026-05-30T09:00:00+02:00")
    phone.sync([bed, planting, out, pick])
    return str(planting["id"])


def test_review_of_this_year_is_the_answer_when_no_season_is_named(lead: Phone) -> None:
    planting = _picked(lead)
    answer = lead.get("/review").get_json()
    assert answer["season"] == 2026
    assert not answer["is_over"]
    (told,) = answer["plantings"]
    assert told["planting"] == planting
    assert told["picked_count"] == 8
    assert told["picked_g"] is None


def test_review_of_another_season_tells_of_what_stood_then(lead: Phone) -> None:
    _picked(lead)
    assert lead.get("/review?season=2025").get_json()["plantings"] == []


@pytest.mark.parametrize("season", ["last", "12", "2026.5"])
def test_review_of_what_is_no_year_says_so(lead: Phone, season: str) -> None:
    response = lead.get(f"/review?season={season}")
    assert response.status_code == 422
    assert "season" in error_of(response)["fields"]
