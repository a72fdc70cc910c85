"""Label days and hours, from log to finding and to the question before a pick."""

from shedbook.log.moment import parse_moment
from shedbook.rules.withheld import withheld
from tests.unit.rules.logbook import BED, PEPPERS, Logbook

LABEL = {"method": "product", "product": "leaf dust", "days_to_harvest": 3, "hours_to_reentry": 12}
SPRAYED = "2026-10-23T18:30:00+02:00"
# Three days of 24 hours, over the night in which the clocks go back.
FREE = "2026-10-26T17:30:00+01:00"
DAY_S = 86_400


def test_days_to_harvest_over_the_end_of_summer_time_block_a_pick_to_the_second() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, LABEL, id="spray")
    free = parse_moment(FREE).instant
    found = log.findings("2026-10-26T17:29:59+01:00", "harvest_wait")
    answer = withheld(found, "pick", free - 1, free - 60, DAY_S)
    assert (answer["state"], answer["until"]) == ("blocked", free)
    found = log.findings(FREE, "harvest_wait")
    assert withheld(found, "pick", free, free - 60, DAY_S)["state"] == "none_known"


def test_hours_to_reentry_block_every_hand_work_in_the_bed_and_not_water() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, LABEL, id="spray")
    (found,) = log.findings("2026-10-24T06:29:59+02:00", "reentry_wait")
    assert found["subject"] == {"bed": "bed-1"}
    assert {"pick", "prune", "feed", "scout", "weed"} <= set(found["blocks"])
    assert not {"water", "rain", "note", "treat"} & set(found["blocks"])
    assert log.findings("2026-10-24T06:30:00+02:00", "reentry_wait") == []


def test_a_pick_inside_the_days_is_flagged_for_good_and_names_both_entries() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, LABEL, id="spray")
    log.write("pick", "2026-10-25T09:00:00+01:00", {"count": 9}, id="pick")
    found = log.findings("2027-02-01T09:00:00+01:00", "harvest_wait")
    assert [(made["state"], made["entries"]) for made in found] == [("flagged", ["spray", "pick"])]
    assert found[0]["until"] == parse_moment(FREE).instant


def test_a_pick_synced_before_its_treatment_is_flagged_all_the_same() -> None:
    log = Logbook()
    log.write("pick", "2026-10-25T09:00:00+01:00", {"count": 9}, id="pick")
    log.write("treat", SPRAYED, LABEL, id="spray")
    found = log.findings("2026-11-20T09:00:00+01:00", "harvest_wait")
    assert [made["state"] for made in found] == ["flagged"]


def test_a_treatment_without_label_days_never_becomes_known_by_waiting() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, {"method": "product"}, id="spray")
    for at in ("2026-10-23T19:00:00+02:00", "2027-10-23T19:00:00+02:00"):
        (found,) = log.findings(at, "harvest_wait")
        assert found["state"] == "unknown"
        now = parse_moment(at).instant
        assert withheld([found], "pick", now, now, DAY_S)["state"] == "unknown"


def test_a_treatment_whose_label_days_are_corrected_in_blocks_from_then_on() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, {"method": "product"}, id="spray")
    restated = {"entry": "spray", "kind": "treat", "restated": LABEL}
    log.write("correct", SPRAYED, restated)
    (found,) = log.findings("2026-10-24T09:00:00+02:00", "harvest_wait")
    assert (found["key"], found["state"]) == (f"harvest_wait/planting:{PEPPERS}/spray", "blocked")


def test_a_treatment_taken_back_is_noted_with_who_until_its_original_end() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, LABEL, id="spray")
    log.write("void", "2026-10-24T08:00:00+02:00", {"entry": "spray"})
    (found,) = log.findings("2026-10-26T17:29:59+01:00", "harvest_wait")
    assert found["state"] == "noted"
    assert found["reasons"][0]["values"]["person"] == "marit"
    assert "blocks" not in found
    assert log.findings(FREE, "harvest_wait") == []


def test_a_planting_moved_after_its_bed_was_sprayed_stays_blocked() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, LABEL, {"bed": BED}, id="spray")
    log.write("bed", "2026-10-24T08:00:00+02:00", {"name": "Other"}, {"bed": "bed-2"}, id="bed-2")
    there = {"bed": "bed-2", "planting": PEPPERS}
    log.write("transplant", "2026-10-24T09:00:00+02:00", {}, there)
    (found,) = log.findings("2026-10-24T10:00:00+02:00", "harvest_wait")
    assert (found["state"], found["subject"]) == ("blocked", there)


def test_a_planting_that_was_taken_back_leaves_its_bed_blocked() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, LABEL, id="spray")
    log.write("void", "2026-10-24T08:00:00+02:00", {"entry": PEPPERS})
    found = log.findings("2026-10-24T10:00:00+02:00", "harvest_wait")
    assert [(made["state"], made["subject"]["bed"]) for made in found] == [("blocked", BED)]
    now = parse_moment("2026-10-24T10:00:00+02:00").instant
    assert withheld(found, "pick", now, now, DAY_S)["state"] == "blocked"


def test_hours_to_reentry_hold_although_the_bed_was_taken_back() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, LABEL, id="spray")
    log.write("void", "2026-10-23T19:00:00+02:00", {"entry": BED})
    found = log.findings("2026-10-23T20:00:00+02:00", "reentry_wait")
    assert [(made["state"], made["subject"]["planting"]) for made in found] == [
        ("blocked", PEPPERS)
    ]


MANURED = "2026-04-02T09:00:00+02:00"


def test_a_planting_moved_out_of_a_manured_bed_stays_withheld() -> None:
    log = Logbook()
    log.write("bed", MANURED, {"name": "Next bed"}, {"bed": "bed-2"}, id="bed-2")
    log.write("feed", MANURED, {"origin": "raw_manure"}, {"bed": BED}, id="heap")
    (before,) = log.findings("2026-06-01T09:00:00+02:00", "manure_wait")
    moved = {"bed": "bed-2", "planting": PEPPERS}
    log.write("planting", "2026-05-20T09:00:00+02:00", {}, moved)
    (after,) = log.findings("2026-06-01T09:00:00+02:00", "manure_wait")
    assert (after["state"], after["until"]) == ("blocked", before["until"])


def test_manure_that_came_after_a_planting_had_left_does_not_reach_it() -> None:
    log = Logbook()
    log.write("bed", MANURED, {"name": "Next bed"}, {"bed": "bed-2"}, id="bed-2")
    moved = {"bed": "bed-2", "planting": PEPPERS}
    log.write("transplant", "2026-05-20T09:00:00+02:00", {}, moved)
    for origin, at in (("raw_manure", "05-25"), ("compost", "05-01")):
        log.write("feed", f"2026-{at}T09:00:00+02:00", {"origin": origin}, {"bed": BED})
    assert log.findings("2026-06-01T09:00:00+02:00", "manure_wait") == []


COOL = {"place": "Cellar", "count": 5, "step": "in", "temperature_c": 8}


def _lot_of(log: Logbook, rained: bool = False) -> dict[str, object]:
    if rained:
        log.write("rain", "2026-10-24T08:00:00+02:00", {"depth_mm": 9}, {})
    log.write("pick", "2026-10-24T09:00:00+02:00", {"count": 5}, id="pick")
    log.write("store", "2026-10-24T10:00:00+02:00", COOL, {"planting": PEPPERS}, id="lot")
    (found,) = log.findings("2026-10-25T09:00:00+01:00", "store_lot")
    return {"state": found["state"], "key": found["message"]["key"], "entries": found["entries"]}


def test_a_lot_picked_after_a_treatment_of_unknown_days_is_held_until_the_lead_decides() -> None:
    log = Logbook()
    log.write("treat", SPRAYED, {"method": "product"}, id="spray")
    told = {"state": "unknown", "key": "keeping.doubt", "entries": ["lot", "pick"]}
    assert _lot_of(log) == told
    ended = {"ended_on": "2026-10-24"}
    log.write("planting", "2026-10-24T12:00:00+02:00", ended, {"planting": PEPPERS})
    (found,) = log.findings("2026-11-01T09:00:00+01:00", "store_lot")
    assert found["message"]["key"] == "keeping.doubt"
    key = f"harvest_wait/planting:{PEPPERS}/spray"
    log.write("decline", "2026-10-25T08:00:00+01:00", {"reason": "Label found."}, answers=key)
    (found,) = log.findings("2026-11-01T09:00:00+01:00", "store_lot")
    assert found["message"]["key"] == "keeping.upcoming"


def test_a_lot_picked_from_wet_leaves_is_not_held_for_a_treatment() -> None:
    told = _lot_of(Logbook(), rained=True)
    assert (told["state"], told["key"]) == ("upcoming", "keeping.upcoming")
