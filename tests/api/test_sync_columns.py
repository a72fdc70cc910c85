"""/api/gardens/<garden>/sync with `form`: the page of the log in columns."""

import gzip
import json
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import delete, update
from werkzeug.test import TestResponse

from shedbook.api.log_pages import KeptPages, Page, Place
from shedbook.records.engine import writing
from shedbook.records.gardens import start_new_epoch
from shedbook.records.models import Entry, Garden
from tests.api.builders import Phone, a_garden, a_phone, an_id
from tests.columns import entries_in

PACKED = {"Accept-Encoding": "gzip"}


def _fill(phone: Phone, count: int = 60) -> None:
    """A log of several kinds, one of them unknown, one entry mended."""
    bed = phone.bed()
    entries = [bed, phone.entry("measure_sap", {"brix": 7.5}, {"leaf": "top"}, extra=[1])]
    while len(entries) < count - 1:
        entries.append(phone.entry("water", {"volume_l": len(entries)}, {"bed": bed["id"]}))
    entries.append(phone.entry("void", {"entry": entries[2]["id"]}))
    phone.sync(entries)


def _pull(phone: Phone, **asked: Any) -> TestResponse:
    headers = asked.pop("headers", {})
    body = {"notebook": phone.notebook, "form": "columns"} | asked
    response = phone.post("/sync", body, headers=headers)
    assert response.status_code == 200, response.get_data(as_text=True)
    return response


def _unpacked(response: TestResponse) -> dict[str, Any]:
    assert response.headers["Content-Encoding"] == "gzip"
    assert "Accept-Encoding" in response.headers["Vary"]
    answer: dict[str, Any] = json.loads(gzip.decompress(response.get_data()))
    return answer


@pytest.mark.parametrize("page", [60, 25, 2000])
def test_columns_hold_what_rows_do_and_the_rest_of_the_answer_is_the_same(
    lead: Phone, page: int
) -> None:
    _fill(lead)
    for cursor in range(0, 60, page):
        rows = lead.sync(cursor=cursor, page=page)
        wanted = rows.pop("entries")
        for _ in range(2):
            answers = [
                _pull(lead, cursor=cursor, page=page).get_json(),
                _unpacked(_pull(lead, cursor=cursor, page=page, headers=PACKED)),
            ]
            for answer in answers:
                assert entries_in(answer.pop("columns")) == wanted
                assert answer == rows


def test_nothing_new_is_no_entries_in_either_form(lead: Phone) -> None:
    _fill(lead)
    answer = _pull(lead, cursor=60).get_json()
    assert answer["entries"] == []
    assert "columns" not in answer


def test_a_form_that_this_shed_does_not_know_is_answered_as_rows(lead: Phone) -> None:
    _fill(lead)
    assert len(_pull(lead, form="rings").get_json()["entries"]) == 60


def test_a_page_that_was_not_full_shows_what_came_since(lead: Phone) -> None:
    _fill(lead)
    assert len(entries_in(_pull(lead, page=61).get_json()["columns"])) == 60
    late = lead.entry()
    lead.sync([late])
    pulled = entries_in(_pull(lead, page=61).get_json()["columns"])
    assert pulled[-1]["id"] == late["id"]


def test_kept_pages_of_another_garden_and_of_an_older_epoch_are_not_given(
    app: Flask, lead: Phone
) -> None:
    _fill(lead)
    other = a_phone(app, a_garden(app, "Away"))
    _fill(other)
    for phone in (lead, other, lead):
        pulled = entries_in(_pull(phone, page=60).get_json()["columns"])
        assert {entry["garden"] for entry in pulled} == {phone.garden}
    with app.app_context():
        epoch = start_new_epoch(lead.garden)
    assert _pull(lead, page=60).get_json()["epoch"] == epoch


def test_a_full_page_is_read_and_packed_once(lead: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    _fill(lead)
    first = _pull(lead, page=60).get_json()["columns"]
    monkeypatch.setattr("shedbook.api.log_pages.PageRows", None)
    assert _pull(lead, page=60).get_json()["columns"] == first
    assert _unpacked(_pull(lead, page=60, headers=PACKED))["columns"] == first


def test_pages_that_were_not_asked_for_the_longest_go_first() -> None:
    kept = KeptPages(most_bytes=25)
    places = [Place(an_id(), an_id(), cursor, 10) for cursor in range(3)]
    for place in places[:2]:
        kept.keep(place, Page(10, b""), 10)
    # In the place of the one before, not beside it.
    kept.keep(places[1], Page(10, b"other"), 10)
    assert kept.find(places[0])
    kept.keep(places[2], Page(10, b""), 10)
    found = [kept.find(place) is not None for place in places]
    assert found == [True, False, True]
    kept.keep(places[1], Page(10, b""), 26)
    assert not any(kept.find(place) for place in places)


@pytest.mark.parametrize("form", ["columns", "rows"])
def test_a_page_of_large_entries_is_cut_and_the_next_goes_on_from_there(
    lead: Phone, form: str
) -> None:
    large = {"text": "x"} | {f"n{number}": "ä" * 3900 for number in range(30)}
    written = [lead.entry(details=large) for _ in range(40)]
    for entry in written:
        assert lead.push_one(entry)["result"] == "accepted"
    pulled: list[dict[str, Any]] = []
    pages = []
    while len(pulled) < len(written):
        # Twice: the second time it may be a page that was kept.
        answers = [_pull(lead, cursor=len(pulled), form=form).get_json() for _ in range(2)]
        assert answers[0] == answers[1]
        answer = answers[0]
        page = entries_in(answer["columns"]) if "columns" in answer else answer["entries"]
        pages.append(len(page))
        pulled += page
        assert (answer["cursor"], answer["head"]) == (len(pulled), len(written))
    assert [entry["id"] for entry in pulled] == [entry["id"] for entry in written]
    # 235 kB each.
    assert pages == [18, 18, 4]


def test_a_single_entry_above_a_page_is_a_page_of_its_own(
    lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    _fill(lead, 4)
    monkeypatch.setattr("shedbook.records.entries.PAGE_BYTES", 1)
    for cursor in range(4):
        answer = _pull(lead, cursor=cursor).get_json()
        assert [entry["seq"] for entry in entries_in(answer["columns"])] == [cursor + 1]
        assert (answer["cursor"], answer["head"]) == (cursor + 1, 4)


def test_a_kept_page_is_not_given_where_the_log_has_another_entry_at_its_end(
    app: Flask, lead: Phone
) -> None:
    _fill(lead)
    _pull(lead, page=60)
    with app.app_context(), writing() as session:
        # As a store does that was put back from a copy of its files, and grew again.
        session.execute(delete(Entry).where(Entry.seq == 60))
        session.execute(update(Garden).values(head=59))
    late = lead.entry()
    lead.sync([late])
    pulled = entries_in(_pull(lead, page=60).get_json()["columns"])
    assert pulled[-1]["id"] == late["id"]
