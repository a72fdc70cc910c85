"""/api/gardens/<garden>/sync: who may write what, and what corrections may name."""

from typing import Any

from tests.api.builders import Phone, an_id


def test_a_helper_may_not_mend_what_another_wrote(lead: Phone, helper: Phone) -> None:
    bad = lead.entry("water", {"volume_l": 3})
    lead.sync([bad])
    answer = helper.push_one(helper.entry(mends=bad["id"]))
    assert answer["result"] == "refused"
    assert list(answer["problems"]) == ["mends"]


def test_a_reader_writes_nothing_and_is_told_why(reader: Phone) -> None:
    answer = reader.sync([reader.entry()])
    assert answer["answers"][0]["result"] == "refused"
    assert "not write" in answer["answers"][0]["problems"]["person"][0]
    assert answer["head"] == 0
    # Nothing of its notebook is kept, so nothing is missing of which the lead would be warned.
    assert answer["notebook"]["highest"] == 0
    assert [one["missing"] for one in answer["devices"]] == [0]


def test_a_helper_writes_in_no_other_name(helper: Phone, lead: Phone) -> None:
    answer = helper.push_one(helper.entry(person=lead.person))
    assert answer["result"] == "refused"
    assert list(answer["problems"]) == ["person"]


def test_a_lead_brings_in_what_another_wrote(helper: Phone, lead: Phone) -> None:
    assert lead.push_one(lead.entry(person=helper.person))["result"] == "accepted"


def _void(phone: Phone, entry: dict[str, Any]) -> dict[str, Any]:
    return phone.entry("void", {"entry": entry["id"]})


def _correct(phone: Phone, entry: dict[str, Any]) -> dict[str, Any]:
    details = {"entry": entry["id"], "kind": entry["kind"], "restated": {"text": "Frost."}}
    return phone.entry("correct", details)


def _treatment(phone: Phone, bed: str) -> dict[str, Any]:
    details = {"method": "water_jet", "operator": "A. Helper"}
    return phone.entry("treat", details, {"bed": bed})


def test_a_helper_corrects_and_voids_only_entries_of_the_same_person(
    lead: Phone, helper: Phone
) -> None:
    others, own, same = lead.entry(), helper.entry(), helper.entry()
    lead.sync([others])
    helper.sync([own, same])
    assert helper.push_one(_void(helper, own))["result"] == "accepted"
    assert helper.push_one(_correct(helper, same))["result"] == "accepted"
    for attempt in (_void(helper, others), _correct(helper, others)):
        answer = helper.push_one(attempt)
        assert answer["result"] == "refused"
        assert "Only its writer or the lead" in answer["problems"]["details.entry"][0]
    assert lead.push_one(_void(lead, own))["result"] == "accepted"


def test_a_helper_never_changes_a_treatment_not_even_an_own_one(lead: Phone, helper: Phone) -> None:
    bed = helper.bed()
    treatment = _treatment(helper, bed["id"])
    results = [one["result"] for one in helper.sync([bed, treatment])["answers"]]
    assert results == ["accepted", "accepted"]
    answer = helper.push_one(_void(helper, treatment))
    assert answer["result"] == "refused"
    assert answer["problems"] == {
        "details.entry": ["Only the lead may change or lift a treatment."]
    }
    assert lead.push_one(_void(lead, treatment))["result"] == "accepted"


def test_a_helper_does_not_decide_on_the_wait_of_a_treatment(lead: Phone, helper: Phone) -> None:
    key = "harvest_wait/planting:01890000-0000-7000-8000-000000000001/t1"
    decided = {"reason": "looks dry"}
    answer = helper.push_one(helper.entry("decline", decided, answers=key))
    assert answer["result"] == "refused"
    assert answer["problems"] == {"answers": ["Only the lead may decide on a waiting time."]}
    assert lead.push_one(lead.entry("decline", decided, answers=key))["result"] == "accepted"


def test_a_helper_sends_the_entry_before_the_one_that_voids_it(helper: Phone, lead: Phone) -> None:
    own = helper.entry()
    void = _void(helper, own)
    assert helper.push_one(void)["problems"] == {
        "details.entry": ["The shed does not have this entry yet. Send it first."]
    }
    assert [one["result"] for one in helper.sync([own, void])["answers"]] == ["accepted"] * 2
    unknown = lead.push_one(lead.entry("void", {"entry": an_id()}))
    assert unknown["remarks"] == {"details.entry": ["No entry with this id is in the log."]}


def test_a_correction_names_a_root_and_its_kind(lead: Phone) -> None:
    note = lead.entry()
    void = _void(lead, note)
    lead.sync([note, void])
    of_void = lead.push_one(lead.entry("void", {"entry": void["id"]}))
    assert of_void["result"] == "set_aside"
    assert list(of_void["problems"]) == ["details.entry"]
    details = {"entry": note["id"], "kind": "rain", "restated": {"depth_mm": 3}}
    as_rain = lead.push_one(lead.entry("correct", details))
    assert as_rain["result"] == "set_aside"
    assert as_rain["problems"] == {
        "details.kind": ["Must be note, the kind of the entry that it corrects."]
    }


def test_a_number_that_was_refused_by_permission_is_not_missing(lead: Phone, helper: Phone) -> None:
    others = lead.entry()
    lead.sync([others])
    answer = helper.sync([helper.entry(), _void(helper, others), helper.entry()])
    assert [one["result"] for one in answer["answers"]] == ["accepted", "refused", "accepted"]
    assert answer["notebook"]["missing"] == []
    assert answer["notebook"]["unbroken"] == 3


def test_an_entry_that_was_refused_once_is_stored_when_it_may_come(helper: Phone) -> None:
    own = helper.entry()
    void = _void(helper, own)
    assert helper.push_one(void)["result"] == "refused"
    assert helper.push_one(own)["result"] == "accepted"
    answer = helper.sync([void])
    assert answer["answers"][0]["result"] == "accepted"
    assert [one["id"] for one in answer["entries"]] == [own["id"], void["id"]]


def test_a_helper_sets_nothing_that_holds_for_the_whole_garden(helper: Phone, lead: Phone) -> None:
    for kind, details in (("setting", {"stale_after_hours": 720}), ("garden", {"name": "Mine"})):
        answer = helper.push_one(helper.entry(kind, details))
        assert answer["result"] == "refused"
        assert "Only the lead" in answer["problems"]["kind"][0]
        assert lead.push_one(lead.entry(kind, details))["result"] == "accepted"


def _feed(phone: Phone, bed: str, origin: str) -> dict[str, Any]:
    return phone.entry("feed", {"product": "Heap by the gate", "origin": origin}, {"bed": bed})


def _restated(phone: Phone, feed: dict[str, Any], origin: str) -> dict[str, Any]:
    restated = {"product": "Heap by the gate", "origin": origin}
    details = {"entry": feed["id"], "kind": "feed", "restated": restated}
    return phone.entry("correct", details, feed["subjects"])


def test_a_helper_never_takes_back_own_raw_manure(lead: Phone, helper: Phone) -> None:
    bed = helper.bed()
    raw, compost = (_feed(helper, bed["id"], origin) for origin in ("raw_manure", "compost"))
    # In one batch with what it mends, and later on.
    attempts = [_void(helper, raw), _restated(helper, raw, "compost")]
    answers = helper.sync([bed, raw, compost, *attempts])["answers"]
    assert [one["result"] for one in answers] == ["accepted"] * 3 + ["refused"] * 2
    for attempt in (_void(helper, raw), _restated(helper, raw, "other")):
        answer = helper.push_one(attempt)
        assert answer["problems"] == {
            "details.entry": ["Only the lead may change or take back raw manure."]
        }
    assert helper.push_one(_void(helper, compost))["result"] == "accepted"
    assert lead.push_one(_restated(lead, raw, "compost"))["result"] == "accepted"


def test_what_was_corrected_into_raw_manure_is_the_leads_from_then_on(helper: Phone) -> None:
    bed = helper.bed()
    slip = _feed(helper, bed["id"], "compost")
    worse = _restated(helper, slip, "raw_manure")
    back = _restated(helper, slip, "compost")
    answers = helper.sync([bed, slip, worse, back])["answers"]
    assert [one["result"] for one in answers] == ["accepted", "accepted", "accepted", "refused"]
    assert helper.push_one(_void(helper, slip))["result"] == "refused"
