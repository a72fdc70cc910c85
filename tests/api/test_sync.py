"""/api/gardens/<garden>/sync: what a phone sends, and what it gets back."""

import gzip
import json

import pytest
from flask import Flask

from shedbook.keeping.verify import verify_garden
from shedbook.log.clock import clock_text
from shedbook.records.gardens import start_new_epoch
from shedbook.records.models import db
from shedbook.rules.rulebook import load_rulebook
from tests.api.builders import HEADERS, NOW_MS, Phone, a_garden, a_phone, an_id, error_of


def test_entries_are_accepted_and_come_back_in_the_stored_form(lead: Phone) -> None:
    entry = lead.entry()
    answer = lead.sync([entry])
    assert answer["answers"] == [
        {
            "id": entry["id"],
            "number": 1,
            "result": "accepted",
            "seq": 1,
            "order": entry["clock"],
        }
    ]
    stored = {"seq": 1, "order": entry["clock"], "received_at": NOW_MS}
    assert answer["entries"] == [entry | stored]
    assert (answer["cursor"], answer["head"]) == (1, 1)
    assert answer["notebook"] == {"id": lead.notebook, "unbroken": 1, "missing": [], "highest": 1}
    assert answer["server_time_ms"] == NOW_MS
    assert answer["you"] == {"device": lead.device, "person": lead.person, "role": "lead"}
    assert len(answer["assets"]) == 20


def test_the_same_entry_again_is_known_with_its_first_number(lead: Phone) -> None:
    entry = lead.entry()
    first = lead.sync([entry])["answers"][0]
    again = lead.sync([entry], cursor=1)
    assert again["answers"] == [first | {"result": "known"}]
    assert again["entries"] == []
    assert again["head"] == 1


def test_the_same_entry_twice_in_one_batch_is_stored_once(lead: Phone) -> None:
    entry = lead.entry()
    answer = lead.sync([entry, entry])
    assert [one["result"] for one in answer["answers"]] == ["accepted", "known"]
    assert answer["head"] == 1


def test_an_entry_sent_back_in_the_stored_form_is_known(lead: Phone) -> None:
    stored = lead.sync([lead.entry()])["entries"][0]
    assert lead.push_one(stored)["result"] == "known"


def test_the_same_id_with_other_content_is_refused_with_what_to_do(lead: Phone) -> None:
    entry = lead.entry()
    lead.sync([entry])
    answer = lead.push_one(entry | {"details": {"text": "Dew until ten."}})
    assert answer["result"] == "refused"
    assert answer["problems"] == {"id": ["Another entry with other content has this id."]}
    assert "correction" in answer["hint"]


def test_a_number_used_by_another_entry_is_answered_forked(lead: Phone) -> None:
    lead.sync([lead.entry()])
    other = lead.entry(number=1)
    answer = lead.push_one(other)
    assert answer["result"] == "forked"
    assert "new notebook" in answer["hint"]
    lead.notebook = an_id()
    moved = other | {"notebook": lead.notebook, "number": 1}
    assert lead.push_one(moved)["result"] == "accepted"


def test_a_renumbered_entry_that_had_arrived_counts_in_the_new_notebook(lead: Phone) -> None:
    entry = lead.entry()
    lead.sync([entry])
    lead.notebook = an_id()
    answer = lead.sync([entry | {"notebook": lead.notebook}])
    assert answer["answers"][0]["result"] == "known"
    assert answer["notebook"] == {"id": lead.notebook, "unbroken": 1, "missing": [], "highest": 1}
    assert answer["head"] == 1


def test_a_notebook_of_another_person_is_forked_until_that_device_is_revoked(
    lead: Phone, helper: Phone
) -> None:
    helper.sync([helper.entry()])
    lead.notebook, lead.number = helper.notebook, 1
    entry = lead.entry()
    assert lead.push_one(entry)["result"] == "forked"
    url = f"/api/gardens/{lead.garden}/devices/{helper.device}"
    lead.client.delete(url, headers=HEADERS)
    assert lead.push_one(entry)["result"] == "accepted"


def test_numbers_that_have_not_come_are_named(lead: Phone) -> None:
    entries = [lead.entry() for _ in range(6)]
    answer = lead.sync([entries[0], entries[2], entries[5]])
    assert answer["notebook"] == {
        "id": lead.notebook,
        "unbroken": 1,
        "missing": [2, 4, 5],
        "highest": 6,
    }
    assert next(one for one in answer["devices"] if one["id"] == lead.device)["missing"] == 3
    answer = lead.sync([entries[1], entries[3], entries[4]])
    assert answer["notebook"] == {"id": lead.notebook, "unbroken": 6, "missing": [], "highest": 6}


def test_of_a_wide_gap_the_first_hundred_numbers_are_named(lead: Phone) -> None:
    answer = lead.sync([lead.entry(number=2_000_000)])
    assert answer["notebook"]["missing"] == list(range(1, 101))


def test_an_entry_with_a_bad_field_is_set_aside_and_blocks_no_other(lead: Phone) -> None:
    bed = lead.bed()
    subjects = {"bed": bed["id"]}
    bad = lead.entry("water", {"volume_l": -3}, subjects)
    good = lead.entry("water", {"volume_l": 3}, subjects)
    answer = lead.sync([bed, bad, good])
    assert [one["result"] for one in answer["answers"]] == ["accepted", "set_aside", "accepted"]
    told = answer["answers"][1]
    assert "details.volume_l" in told["problems"]
    assert "Mend it" in told["hint"]
    assert answer["notebook"]["unbroken"] == 3
    assert [one["id"] for one in answer["entries"]] == [bed["id"], good["id"]]
    assert lead.push_one(bad)["result"] == "set_aside"


def test_a_missing_field_is_named_by_its_path(lead: Phone) -> None:
    bed = lead.bed()
    lead.sync([bed])
    answer = lead.push_one(lead.entry("water", {}, {"bed": bed["id"]}))
    assert answer["result"] == "set_aside"
    assert list(answer["problems"]) == ["details"]


def test_a_missing_subject_is_named_by_its_path(lead: Phone) -> None:
    answer = lead.push_one(lead.entry("water", {"volume_l": 3}))
    assert answer["result"] == "set_aside"
    assert list(answer["problems"]) == ["subjects"]


def test_a_kind_of_a_newer_phone_is_kept_untouched(lead: Phone) -> None:
    entry = lead.entry(
        "measure_sap",
        {"brix": 7.5, "deep": [{"x": True}]},
        {"bed": an_id(), "leaf": "top"},
        extra="kept",
    )
    answer = lead.sync([entry])
    assert answer["answers"][0]["result"] == "accepted"
    assert "kind" in answer["answers"][0]["remarks"]
    assert answer["entries"][0].items() >= entry.items()
    assert lead.push_one(entry)["remarks"] == answer["answers"][0]["remarks"]


def test_a_correction_in_a_newer_version_without_its_root_is_kept(lead: Phone) -> None:
    answer = lead.push_one(lead.entry("correct", {"of": "elsewhere"}, version=99))
    assert answer["result"] == "accepted"
    assert lead.get("/findings").status_code == 200


def test_an_unknown_bed_and_planting_are_remarked_on(lead: Phone) -> None:
    entry = lead.entry("water", {"volume_l": 3}, {"bed": an_id(), "planting": an_id()})
    answer = lead.push_one(entry)
    assert answer["result"] == "accepted"
    assert answer["remarks"] == {
        "subjects.bed": ["No bed with this id is in the log."],
        "subjects.planting": ["No planting with this id is in the log."],
    }


def test_a_bed_made_in_the_same_batch_is_known(lead: Phone) -> None:
    bed = lead.bed()
    water = lead.entry("water", {"volume_l": 3}, {"bed": bed["id"]})
    assert "remarks" not in lead.sync([bed, water])["answers"][1]


def test_a_date_far_ahead_and_one_long_ago_are_remarked_on(lead: Phone) -> None:
    for happened_at in ("2026-06-03T10:00:00+02:00", "1999-12-31T10:00:00+01:00"):
        answer = lead.push_one(lead.entry(happened_at=happened_at))
        assert answer["result"] == "accepted"
        assert list(answer["remarks"]) == ["happened_at"]


def test_a_date_that_is_none_is_set_aside(lead: Phone) -> None:
    for happened_at in ("2026-02-30T10:00:00+01:00", "2026-06-01T10:00:00Z", 5):
        answer = lead.push_one(lead.entry(happened_at=happened_at))
        assert answer["result"] == "set_aside"
        assert "happened_at" in answer["problems"]


def test_what_cannot_be_read_is_refused_with_its_field(lead: Phone, app: Flask) -> None:
    other_garden = a_garden(app, "Away")
    cases = {
        "id": lead.entry(id="NOT-AN-ID"),
        "number": lead.entry(number=0),
        "garden": lead.entry(garden=other_garden),
        "notebook": lead.entry(notebook=an_id()),
    }
    answers = lead.sync([*cases.values(), "no entry", None, 7])["answers"]
    for field, answer in zip(cases, answers, strict=False):
        assert answer["result"] == "refused"
        assert field in answer["problems"]
    assert [one["result"] for one in answers[4:]] == ["refused"] * 3
    assert answers[4]["problems"] == {"_schema": ["An entry must be an object."]}
    assert lead.sync()["head"] == 0


def test_values_that_no_store_keeps_are_refused_and_block_no_other(lead: Phone) -> None:
    texts = ["\\u0000", "\\ud800", "x"]
    entries = [json.dumps(lead.entry(details={"text": "?"})).replace("?", one) for one in texts]
    entries.append(json.dumps(lead.entry(details={"text": 1})).replace('"text": 1', '"text": NaN'))
    entries.append(
        json.dumps(lead.entry(details={"text": 1})).replace('"text": 1', '"text": 1e999')
    )
    entries.append(json.dumps(lead.entry(details={"a": json.loads("[" * 20 + "]" * 20)})))
    body = (
        f'{{"notebook":"{lead.notebook}","cursor":0,"waiting":0,"entries":[{",".join(entries)}]}}'
    )
    response = lead.client.post(
        f"/api/gardens/{lead.garden}/sync",
        data=body,
        headers=HEADERS,
        content_type="application/json",
    )
    assert response.status_code == 200
    results = [one["result"] for one in response.get_json()["answers"]]
    assert results == ["refused", "refused", "accepted", "refused", "refused", "refused"]


def test_an_order_is_never_far_above_the_time_of_arrival(lead: Phone) -> None:
    ahead = lead.entry(clock=clock_text(NOW_MS + 86_400_000, 7))
    answer = lead.push_one(ahead)
    assert answer["order"] == clock_text(NOW_MS + 300_000, 0)


def test_a_set_aside_entry_is_mended_by_one_that_names_it(lead: Phone) -> None:
    bed = lead.bed()
    bad = lead.entry("water", {"volume_l": -3}, {"bed": bed["id"]})
    lead.sync([bed, bad])
    assert [one["id"] for one in lead.get("/set-aside").get_json()["entries"]] == [bad["id"]]
    mending = lead.entry("water", {"volume_l": 3}, {"bed": bed["id"]}, mends=bad["id"])
    assert "remarks" not in lead.push_one(mending)
    assert lead.get("/set-aside").get_json()["entries"] == []


def test_mending_what_was_not_set_aside_is_remarked_on(lead: Phone) -> None:
    answer = lead.push_one(lead.entry(mends=an_id()))
    assert answer["remarks"] == {"mends": ["No entry with this id was set aside."]}


def test_a_page_ends_where_asked_and_the_next_one_goes_on(lead: Phone) -> None:
    lead.sync([lead.entry() for _ in range(5)])
    page = lead.sync(cursor=0, page=2)
    assert [one["seq"] for one in page["entries"]] == [1, 2]
    assert (page["cursor"], page["head"]) == (2, 5)
    assert [one["seq"] for one in lead.sync(cursor=2)["entries"]] == [3, 4, 5]


def test_after_a_restore_the_phone_reads_from_the_start(lead: Phone, app: Flask) -> None:
    before = lead.sync([lead.entry(), lead.entry()])
    with app.app_context():
        epoch = start_new_epoch(lead.garden)
    after = lead.sync(cursor=2, epoch=before["epoch"])
    assert after["epoch"] == epoch
    assert epoch != before["epoch"]
    assert [one["seq"] for one in after["entries"]] == [1, 2]


def test_a_cursor_above_the_head_reads_from_the_start(lead: Phone) -> None:
    lead.sync([lead.entry()])
    assert [one["seq"] for one in lead.sync(cursor=9)["entries"]] == [1]


def test_a_setting_of_the_zone_and_a_new_name_are_followed(lead: Phone) -> None:
    lead.sync([lead.entry("setting", {"zone": "Asia/Tokyo"}), lead.entry("garden", {"name": "B"})])
    session = lead.client.get("/api/session").get_json()
    assert session["garden"]["zone"] == "Asia/Tokyo"
    assert session["garden"]["name"] == "B"


def test_a_quiet_phone_is_written_down_as_heard_once_a_minute(lead: Phone, clock) -> None:  # type: ignore[no-untyped-def]
    def heard() -> int:
        devices = lead.get("/devices").get_json()["devices"]
        return int(devices[0]["heard_at_ms"])

    lead.sync()
    clock.ms += 30_000
    lead.sync()
    assert heard() == NOW_MS
    clock.ms += 31_000
    lead.sync()
    assert heard() == NOW_MS + 61_000
    clock.ms += 1_000
    lead.sync(waiting=3)
    assert heard() == NOW_MS + 62_000


def test_a_phone_on_which_nothing_was_written_pulls_without_a_notebook(
    lead: Phone, reader: Phone
) -> None:
    lead.sync([lead.entry()])
    answer = reader.sync(notebook="")
    assert len(answer["entries"]) == 1
    assert answer["notebook"] == {"id": "", "unbroken": 0, "missing": [], "highest": 0}


def test_fields_of_the_request_are_checked(lead: Phone) -> None:
    cases = {
        "notebook": "x",
        "entries": {},
        "cursor": -1,
        "page": 2001,
        "waiting": "2",
        "epoch": 7,
    }
    for field, value in cases.items():
        body = {"notebook": lead.notebook, "entries": [], "cursor": 0, "waiting": 0}
        response = lead.post("/sync", body | {field: value})
        assert response.status_code == 422, field
        assert list(error_of(response)["fields"]) == [field]


def test_more_than_500_entries_are_too_many_for_one_request(lead: Phone) -> None:
    response = lead.post("/sync", {"notebook": lead.notebook, "entries": [1] * 501})
    assert response.status_code == 422
    assert "entries" in error_of(response)["fields"]


def test_a_newer_phone_may_send_fields_that_the_shed_does_not_know(lead: Phone) -> None:
    assert lead.sync(battery_percent=80)["head"] == 0


def test_a_large_answer_is_packed_when_the_phone_takes_it(lead: Phone) -> None:
    lead.sync([lead.entry() for _ in range(20)])
    body = {"notebook": lead.notebook, "cursor": 0}
    response = lead.post("/sync", body, headers={"Accept-Encoding": "gzip"})
    assert response.headers["Content-Encoding"] == "gzip"
    assert len(json.loads(gzip.decompress(response.get_data()))["entries"]) == 20
    plain = lead.post("/sync", body)
    assert "Content-Encoding" not in plain.headers


def test_another_garden_is_not_found(lead: Phone, app: Flask) -> None:
    stranger = a_phone(app, a_garden(app, "Away"))
    stranger.garden = lead.garden
    response = stranger.post("/sync", {"notebook": stranger.notebook})
    assert response.status_code == 404


@pytest.mark.parametrize("form", ["rows", "columns"])
def test_an_entry_that_cannot_be_read_is_answered_under_the_very_id_it_came_with(
    lead: Phone, form: str
) -> None:
    sent = [lead.entry(id="\ud800"), lead.entry(**{"\udfff": 1}), lead.entry()]
    answers = lead.sync(sent, form=form)["answers"]
    assert [one["result"] for one in answers] == ["refused", "refused", "accepted"]
    assert [one["id"] for one in answers] == [one["id"] for one in sent]


def test_a_bed_under_the_id_of_a_planting_spoils_neither_the_batch_nor_the_garden(
    lead: Phone,
) -> None:
    bed, planting = lead.bed(), lead.planting(None)
    lead.sync([bed, planting])
    one_id = {"bed": planting["id"], "planting": planting["id"]}
    batches = [
        [
            lead.entry("bed", {"name": "Mine"}, {"bed": planting["id"]}),
            lead.entry("planting", {"count": 3}, {"planting": planting["id"]}),
        ],
        [lead.entry("planting", {"count": 4}, one_id)],
        [lead.entry("planting", {"count": 2}, {"planting": bed["id"], "bed": bed["id"]})],
        [lead.entry("void", {"entry": bed["id"]})],
    ]
    for batch in batches:
        assert {one["result"] for one in lead.sync(batch)["answers"]} == {"accepted"}
        assert lead.get("/findings").status_code == 200
        with lead.client.application.app_context():
            found = verify_garden(db.session(), lead.garden, load_rulebook())
        assert found.differences == []
