"""/api/gardens/<garden>/scouting: what was looked for on the plants."""

from tests.api.builders import Phone, error_of


def _scouted(phone: Phone) -> tuple[str, str]:
    bed = phone.bed(length_m=3, width_m=1)
    planting = phone.planting(bed["id"], plants=12, rows=2)
    subjects = {"bed": bed["id"], "planting": planting["id"]}
    out = phone.entry("transplant", {}, subjects, happened_at="2026-04-20T09:00:00+02:00")
    found = {"organism": "bacterial_spot", "plants_looked": 12, "plants_affected": 3}
    named = {"organism": "bacterial_spot", "grade": "some"}
    looks = [
        phone.entry("scout", found, subjects),
        phone.entry("scout", named, {**subjects, "plants": [1, 2, 7]}),
    ]
    trap = phone.entry(
        "trap_read", {"trap": "Door", "organism": "aphids", "count": 9, "nights": 3}, {}
    )
    phone.sync([bed, planting, out, *looks, trap])
    return bed["id"], planting["id"]


def test_a_round_is_told_with_its_share_its_limits_and_where_the_plants_stand(lead: Phone) -> None:
    bed, planting = _scouted(lead)
    answer = lead.get("/scouting").get_json()
    (told,) = answer["looked"]
    assert (told["bed"], told["planting"]) == (bed, planting)
    (session,) = told["sessions"]
    assert session["affected_share"] == 0.25
    assert session["low_share"] < 0.25 < session["high_share"]
    assert session["decision"] == "disease_found"
    assert session["hot_spot"]["values"]["known"] == 12


def test_catches_are_told_by_the_week(lead: Phone) -> None:
    _scouted(lead)
    (caught,) = lead.get("/scouting").get_json()["catches"]
    assert caught["bed"] is None
    assert [week["a_week"] for week in caught["weeks"]] == [21]


def test_it_can_be_asked_for_one_organism_or_one_bed(lead: Phone) -> None:
    bed, _ = _scouted(lead)
    assert lead.get("/scouting?organism=aphids").get_json()["looked"] == []
    answer = lead.get(f"/scouting?bed={bed}").get_json()
    assert len(answer["looked"]) == 1
    assert answer["catches"] == []


def test_an_id_that_is_none_is_said_so(lead: Phone) -> None:
    response = lead.get("/scouting?bed=north")
    assert response.status_code == 422
    assert list(error_of(response)["fields"]) == ["bed"]
