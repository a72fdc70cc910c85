"""/api/example: a season to play in, of which the shed keeps nothing."""

from shedbook.log.identity import is_id
from tests.api.builders import Phone, error_of

ASK = "/api/example?zone=America/Denver"


def test_example_is_a_season_of_a_garden_that_the_shed_does_not_have(lead: Phone) -> None:
    example = lead.client.get(ASK).get_json()
    assert is_id(example["garden"]["id"])
    assert example["garden"]["id"] != lead.garden
    assert {entry["garden"] for entry in example["entries"]} == {example["garden"]["id"]}
    kinds = {entry["kind"] for entry in example["entries"]}
    assert {"setting", "bed", "planting", "water", "pick"} <= kinds
    assert lead.client.get(f"/api/gardens/{example['garden']['id']}/entries").status_code == 404


def test_example_writes_nothing_into_the_callers_log(lead: Phone) -> None:
    lead.client.get(ASK)
    assert lead.get("/entries").get_json()["head"] == 0


def test_example_has_the_times_of_the_asked_zone_and_utc_for_one_that_is_none(lead: Phone) -> None:
    told = lead.client.get(ASK).get_json()["entries"]
    assert {entry["happened_at"][-6:] for entry in told} <= {"-06:00", "-07:00"}
    unknown = lead.client.get("/api/example?zone=Nowhere/Else").get_json()
    assert unknown["garden"]["zone"] == "UTC"


def test_example_names_everybody_who_wrote_in_it(lead: Phone) -> None:
    example = lead.client.get(ASK).get_json()
    named = {person["id"] for person in example["people"]}
    assert {entry["person"] for entry in example["entries"]} == named
    assert example["person"] in example["people"]


def test_example_without_a_zone_says_so(lead: Phone) -> None:
    assert error_of(lead.client.get("/api/example"))["code"] == "bad_fields"
