"""/api/gardens/<garden>/sync: numbers that no entry will come under, and the last one known."""

import pytest
from flask import Flask

from shedbook.records.models import Notebook, db
from tests.api.builders import HEADERS, Phone, error_of


def test_numbers_that_were_given_up_count_as_arrived(lead: Phone) -> None:
    first, _, third = lead.entry(), lead.entry(), lead.entry()
    assert lead.sync([first, third])["notebook"]["missing"] == [2]
    answer = lead.sync(given_up=[2])
    assert answer["notebook"] == {
        "id": lead.notebook,
        "unbroken": 3,
        "missing": [],
        "highest": 3,
    }
    assert lead.sync(given_up=[2, 3])["notebook"]["unbroken"] == 3


def test_a_gap_that_is_filled_while_it_is_looked_for_is_not_missing(
    lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, _, third, _, fifth = (lead.entry() for _ in range(5))
    assert lead.sync([first, third, fifth])["notebook"]["missing"] == [2, 4]
    # As on PostgreSQL, where each question sees what was committed before it.
    monkeypatch.setattr("shedbook.records.notebooks._numbers_above", lambda *_: iter([2, 3, 5]))
    assert lead.sync()["notebook"]["missing"] == [4]
    monkeypatch.setattr("shedbook.records.notebooks._numbers_above", lambda *_: iter([2, 3, 4, 5]))
    assert lead.sync()["notebook"]["missing"] == []


def test_an_entry_that_comes_under_a_number_given_up_is_stored_all_the_same(lead: Phone) -> None:
    entry = lead.entry()
    lead.sync(given_up=[entry["number"]])
    answer = lead.sync([entry])
    assert answer["answers"][0]["result"] == "accepted"
    assert (answer["notebook"]["unbroken"], answer["notebook"]["missing"]) == (1, [])
    assert lead.push_one(lead.entry(number=entry["number"]))["result"] == "forked"


def test_an_entry_and_its_number_given_up_in_one_request_is_stored(lead: Phone) -> None:
    entry = lead.entry()
    answer = lead.sync([entry], given_up=[entry["number"]])
    assert [one["result"] for one in answer["answers"]] == ["accepted"]
    assert lead.push_one(entry)["result"] == "known"


def test_numbers_of_another_persons_notebook_are_not_given_up(lead: Phone, helper: Phone) -> None:
    first, _, third = helper.entry(), helper.entry(), helper.entry()
    helper.sync([first, third])
    lead.sync(notebook=helper.notebook, given_up=[2])
    assert helper.sync()["notebook"]["missing"] == [2]


def test_numbers_of_a_device_that_was_shut_out_are_given_up_by_who_writes_on_alone(
    lead: Phone, helper: Phone
) -> None:
    url = f"/api/gardens/{lead.garden}/devices/{helper.device}"
    first, _, third = helper.entry(), helper.entry(), helper.entry()
    helper.sync([first, third])
    assert lead.client.delete(url, headers=HEADERS).status_code == 204
    assert lead.sync(notebook=helper.notebook, given_up=[2])["notebook"]["missing"] == [2]
    fourth = lead.entry(notebook=helper.notebook, number=4)
    answer = lead.sync([fourth], notebook=helper.notebook, given_up=[2])
    assert answer["notebook"]["missing"] == []


def test_a_phone_without_a_notebook_gives_up_nothing(lead: Phone) -> None:
    assert lead.sync(notebook="", given_up=[1])["notebook"]["highest"] == 0


@pytest.mark.parametrize("given_up", [[0], ["2"], [2**31], 2, [1] * 501])
def test_what_is_no_list_of_numbers_is_refused(lead: Phone, given_up: object) -> None:
    response = lead.post("/sync", {"notebook": lead.notebook, "given_up": given_up})
    assert error_of(response)["code"] == "bad_fields"
    assert "given_up" in error_of(response)["fields"]


def test_numbers_that_a_reader_gives_up_are_not_kept(reader: Phone) -> None:
    answer = reader.sync(given_up=[1, 2, 3])
    assert answer["notebook"]["highest"] == 0


def test_a_notebook_is_taken_over_by_who_writes_on_in_it_alone(
    app: Flask, lead: Phone, helper: Phone
) -> None:
    first, second = helper.entry(), helper.entry()
    helper.sync([first, second])
    url = f"/api/gardens/{lead.garden}/devices/{helper.device}"
    assert lead.client.delete(url, headers=HEADERS).status_code < 300

    def device() -> str:
        with app.app_context():
            return db.session.get_one(Notebook, (lead.garden, helper.notebook)).device_id

    # The lead's phone goes on with what was the helper's.
    answer = lead.sync([first], notebook=helper.notebook, given_up=[4])
    assert [one["result"] for one in answer["answers"]] == ["known"]
    assert device() == helper.device
    helper.person = lead.person
    lead.sync([helper.entry(device=lead.device)], notebook=helper.notebook)
    assert device() == lead.device
