"""Private calendar addresses: who may make, see and shut them, and what is fetched from one.

The text is read by a parser that had no part in writing it.
"""

from datetime import UTC, date, datetime
from typing import Any

import pytest
import vobject
from flask import Flask

from tests.api.builders import HEADERS, ORIGIN, Clock, Phone, a_garden, a_phone


def make(phone: Phone, language: str = "en") -> dict[str, Any]:
    response = phone.post("/calendars", {"language": language})
    assert response.status_code == 201
    made: dict[str, Any] = response.get_json()
    return made


def path_of(made: dict[str, Any]) -> str:
    assert made["address"].startswith(f"{ORIGIN}/calendar/")
    return str(made["address"]).removeprefix(ORIGIN)


def listed(phone: Phone) -> list[str]:
    return [one["id"] for one in phone.get("/calendars").get_json()["calendars"]]


def shut(phone: Phone, made: dict[str, Any]) -> int:
    url = f"/api/gardens/{phone.garden}/calendars/{made['id']}"
    return phone.client.delete(url, headers=HEADERS).status_code


def a_season(phone: Phone) -> None:
    """A bed whose planting was set out four weeks ago, and a treatment with days to harvest."""
    bed = phone.bed()
    planting = phone.planting(bed["id"])
    subjects = {"bed": bed["id"], "planting": planting["id"]}
    set_out = phone.entry("transplant", {}, subjects, happened_at="2026-05-04T08:00:00+02:00")
    treated = phone.entry(
        "treat",
        {
            "method": "product",
            "product": "soap; oil, \\ mixed",
            "days_to_harvest": 3,
            "hours_to_reentry": 4,
        },
        subjects,
        happened_at="2026-06-01T07:00:00+02:00",
    )
    answer = phone.sync([bed, planting, set_out, treated])
    assert {one["result"] for one in answer["answers"]} == {"accepted"}


def events_of(app: Flask, made: dict[str, Any]) -> list[Any]:
    response = app.test_client().get(path_of(made))
    assert response.status_code == 200
    assert response.content_type == "text/calendar; charset=utf-8"
    text = response.get_data(as_text=True)
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    return list(vobject.readOne(text, validate=True).vevent_list)


def test_a_calendar_program_without_a_cookie_reads_what_is_due(app: Flask, lead: Phone) -> None:
    a_season(lead)
    events = events_of(app, make(lead))
    told = {event.summary.value: event for event in events}
    side_dress = next(event for title, event in told.items() if "side-dress" in title.lower())
    first, end = side_dress.dtstart.value, side_dress.dtend.value
    assert type(first) is date
    assert first <= date(2026, 6, 2) < end
    waits = [event for event in events if isinstance(event.dtstart.value, datetime)]
    # Four hours to re-entry after 07:00 in Madrid; three days to harvest from then.
    assert datetime(2026, 6, 1, 9, 0, tzinfo=UTC) in {event.dtend.value for event in waits}
    assert all("North" in title for title in told)


def test_an_event_keeps_its_name_while_its_day_moves(app: Flask, lead: Phone, clock: Clock) -> None:
    a_season(lead)
    made = make(lead)
    before = {event.uid.value for event in events_of(app, made)}
    clock.ms += 24 * 60 * 60 * 1000
    after = {event.uid.value for event in events_of(app, made)}
    assert len(before & after) >= 1
    assert all(uid.endswith("@shedbook") for uid in before)


def test_the_address_is_told_once_and_works_until_it_is_shut(app: Flask, lead: Phone) -> None:
    a_season(lead)
    made = make(lead)
    assert "address" not in lead.get("/calendars").get_json()["calendars"][0]
    assert shut(lead, made) == 204
    assert app.test_client().get(path_of(made)).status_code == 404
    assert listed(lead) == []


def test_the_address_of_someone_whose_last_device_was_shut_out_tells_nothing_more(
    app: Flask, lead: Phone, helper: Phone
) -> None:
    of_lead, of_helper = make(lead), make(helper)
    url = f"/api/gardens/{lead.garden}/devices/{helper.device}"
    assert lead.client.delete(url, headers=HEADERS).status_code == 204
    assert app.test_client().get(path_of(of_helper)).status_code == 404
    assert app.test_client().get(path_of(of_lead)).status_code == 200


def test_a_helper_sees_and_shuts_only_what_is_theirs_and_the_lead_all(
    lead: Phone, helper: Phone
) -> None:
    of_lead, of_helper = make(lead), make(helper)
    assert listed(helper) == [of_helper["id"]]
    assert set(listed(lead)) == {of_lead["id"], of_helper["id"]}
    assert shut(helper, of_lead) == 404
    assert shut(lead, of_helper) == 204


def test_a_calendar_of_one_garden_is_not_there_for_another(app: Flask, lead: Phone) -> None:
    a_season(lead)
    made = make(lead)
    foreign = a_phone(app, a_garden(app, "Away"), "lead")
    assert shut(foreign, made) == 404
    assert not vobject.readOne(
        app.test_client().get(path_of(make(foreign))).get_data(as_text=True)
    ).contents.get("vevent")
    assert events_of(app, made)


@pytest.mark.parametrize("token", ["x", "../secret", "%00", "a" * 300])
def test_an_address_that_was_never_made_is_not_found(app: Flask, token: str) -> None:
    assert app.test_client().get(f"/calendar/{token}.ics").status_code == 404


def test_a_language_that_there_is_not_is_refused_with_its_field(lead: Phone) -> None:
    response = lead.post("/calendars", {"language": "xx"})
    assert response.status_code == 422
    assert "language" in response.get_json()["error"]["fields"]
