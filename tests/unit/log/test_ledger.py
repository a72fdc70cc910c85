"""What a log adds up to, behaviour by behaviour."""

from typing import Any

import pytest

from shedbook.log.ledger import Ledger, live_plants
from shedbook.log.moment import parse_day
from tests.builders import START, Book, Entry, a_bed, an_entry, an_id

DAY = 86_400
TODAY = START // DAY


def ledger_of(book: Book) -> Ledger:
    ledger = Ledger()
    ledger.add(book.entries)
    return ledger


def planted(book: Book, **details: Any) -> tuple[str, str]:
    bed = book.write("bed", {"name": "South"})
    made = {"crop": "pepper", "plants": 4} | details
    planting = book.write("planting", made, bed=bed["id"])
    return bed["id"], planting["id"]


def planting_of(book: Book, planting_id: str) -> dict[str, Any]:
    planting = ledger_of(book).planting(planting_id)
    assert planting is not None
    return planting


def test_add_known_entry_again_touches_nothing() -> None:
    ledger = Ledger()
    assert ledger.add([a_bed()]) == {f"bed:{a_bed()['id']}"}
    assert ledger.add([a_bed()]) == set()


def test_field_written_by_two_phones_is_the_one_of_the_later_order() -> None:
    book = Book()
    bed = book.write("bed", {"name": "South"})
    ahead = book.write("bed", {"name": "Ahead"}, bed=bed["id"], notebook=1)
    book.write("bed", {"name": "Honest"}, bed=bed["id"])
    ahead["clock"] = "f" * 16
    # The shed trusted the phone whose clock ran ahead only up to its own time.
    ahead["order"] = bed["clock"]
    assert ledger_of(book).beds()[0]["name"] == "Honest"


def test_two_entries_of_one_order_are_settled_by_id() -> None:
    book = Book()
    bed = book.write("bed", {"name": "South"})["id"]
    low = book.write("bed", {"name": "Low id"}, bed=bed, id=an_id(2000))
    high = book.write("bed", {"name": "High id"}, bed=bed, id=an_id(2001))
    low["order"] = high["order"] = "f" * 16
    assert ledger_of(book).beds()[0]["name"] == "High id"


def test_correct_moves_an_event_and_touches_both_beds() -> None:
    book = Book()
    south, planting = planted(book)
    north = book.write("bed", {"name": "North"})["id"]
    pick = book.write("pick", {"count": 5}, bed=south, planting=planting)
    ledger = ledger_of(book)
    touched = ledger.add([book.correct(pick, {"count": 6}, bed=north)])
    assert {f"bed:{south}", f"bed:{north}", f"planting:{planting}"} <= touched
    event = ledger.event(pick["id"])
    assert event is not None
    assert (event["bed"], event["details"], event["id"]) == (north, {"count": 6}, pick["id"])


def test_corrections_that_arrive_before_their_root_wait_for_it() -> None:
    book = Book()
    _, planting = planted(book)
    pick = book.write("pick", {"count": 5}, planting=planting)
    void = book.void(book.write("pick", {"count": 9}, planting=planting))
    correct = book.correct(pick, {"count": 6})
    late, ledger = Ledger(), ledger_of(book)
    late.add([void, correct])
    assert late.snapshot()["events"] == []
    late.add(book.entries)
    assert late.snapshot() == ledger.snapshot()


@pytest.mark.parametrize(
    ("last", "count"), [("correct", 7), ("void", None)], ids=["correct-last", "void-last"]
)
def test_last_word_on_an_event_decides(last: str, count: int | None) -> None:
    book = Book()
    _, planting = planted(book)
    pick = book.write("pick", {"count": 5}, planting=planting)
    if last == "void":
        book.correct(pick, {"count": 7})
        book.void(pick)
    else:
        book.void(pick)
        book.correct(pick, {"count": 7})
    event = ledger_of(book).event(pick["id"])
    assert (None if event is None else event["details"]["count"]) == count


def test_voids_and_corrections_of_a_mending_or_of_another_kind_do_nothing() -> None:
    book = Book()
    _, planting = planted(book)
    pick = book.write("pick", {"count": 5}, planting=planting)
    void = book.void(pick)
    book.void(void)
    other = book.write("pick", {"count": 3}, planting=planting)
    wrong = {"entry": other["id"], "kind": "emerge", "restated": {"count": 99}}
    book.write("correct", wrong, planting=planting)
    events = ledger_of(book).snapshot()["events"]
    assert [(event["id"], event["details"]) for event in events] == [(other["id"], {"count": 3})]


def test_voided_treatment_stays_as_lifted_with_its_corrected_details() -> None:
    book = Book()
    bed, planting = planted(book)
    treat = book.write("treat", {"method": "product"}, bed=bed, planting=planting)
    book.correct(treat, {"method": "product", "days_to_harvest": 14})
    void = book.void(treat, notebook=1, at=START + DAY)
    event = ledger_of(book).event(treat["id"])
    assert event is not None
    assert event["details"]["days_to_harvest"] == 14
    assert event["lifted"] == {"person": void["person"], "instant": START + DAY}


def test_voiding_the_making_hides_and_a_correction_brings_back() -> None:
    book = Book()
    bed, planting = planted(book)
    making = book.entries[1]
    book.void(making)
    hidden = planting_of(book, planting)
    assert (hidden["hidden"], hidden["crop"]) == (True, "pepper")
    assert ledger_of(book).residents(bed) == []
    book.correct(making, {"crop": "tomato", "plants": 3})
    assert planting_of(book, planting)["hidden"] is False
    assert planting_of(book, planting)["crop"] == "tomato"


def test_corrected_making_keeps_its_stamp_under_a_later_change() -> None:
    book = Book()
    bed = book.write("bed", {"name": "Suoth", "length_m": 3})
    book.write("bed", {"name": "South wall"}, bed=bed["id"])
    book.correct(bed, {"name": "South", "length_m": 4})
    assert ledger_of(book).beds() == [
        {"id": bed["id"], "hidden": False, "name": "South wall", "length_m": 4}
    ]


def test_place_whose_making_was_set_aside_stands_by_the_entry_that_mends_it() -> None:
    book = Book()
    lost = an_id(77)
    book.write("bed", {"name": "South"}, bed=lost, id=an_id(78), mends=an_id(77))
    assert ledger_of(book).bed(lost) == {"id": lost, "hidden": False, "name": "South"}


def test_names_of_details_cannot_reach_what_the_fold_works_out() -> None:
    book = Book()
    _, planting = planted(book, hidden=True, removed={"1": 1}, standing=True, id="x")
    found = planting_of(book, planting)
    assert (found["hidden"], found["removed"], found["standing"]) == (False, {}, False)
    assert found["id"] == planting


def test_days_of_a_planting_are_the_earliest_of_their_kind() -> None:
    book = Book()
    bed, planting = planted(book)
    for kind, days in [("sow", -60), ("emerge", -50), ("transplant", 0), ("pick", 70)]:
        book.write(kind, at=START + (days + 3) * DAY, planting=planting)
        book.write(kind, at=START + days * DAY, planting=planting, bed=bed)
    found = planting_of(book, planting)
    assert found["sown_day"] == TODAY - 60
    assert found["emerged_day"] == TODAY - 50
    assert found["transplanted_day"] == found["from_day"] == TODAY
    assert found["first_pick_day"] == TODAY + 70
    assert found["standing"] is True


@pytest.mark.parametrize(("place", "stands"), [("direct", True), ("tray", False)])
def test_sowing_puts_a_planting_into_the_bed_only_when_direct(place: str, stands: bool) -> None:
    book = Book()
    _, planting = planted(book)
    book.write("sow", {"place": place}, planting=planting)
    found = planting_of(book, planting)
    assert found["standing"] is stands
    assert ("from_day" in found) is stands


def test_planting_out_moves_a_planting_unless_its_bed_was_written_later() -> None:
    book = Book()
    south, planting = planted(book)
    north = book.write("bed", {"name": "North"})["id"]
    book.write("transplant", {}, bed=north, planting=planting)
    assert planting_of(book, planting)["bed"] == north
    book.write("planting", {}, bed=south, planting=planting)
    assert planting_of(book, planting)["bed"] == south


def test_removed_plants_keep_their_first_day_and_the_last_one_ends_the_planting() -> None:
    book = Book()
    _, planting = planted(book)
    book.write("transplant", {}, planting=planting)
    book.write("remove_plant", {}, planting=planting, plants=[2, 3], at=START + 9 * DAY)
    book.write("remove_plant", {}, planting=planting, plants=[2], at=START + 5 * DAY)
    found = planting_of(book, planting)
    assert found["removed"] == {"2": TODAY + 5, "3": TODAY + 9}
    assert live_plants(found) == [1, 4]
    assert found["standing"] is True
    book.write("remove_plant", {}, planting=planting, at=START + 20 * DAY)
    found = planting_of(book, planting)
    assert live_plants(found) == []
    assert found["until_day"] == TODAY + 20
    assert found["standing"] is False


def test_planting_without_a_number_of_plants_ends_when_all_are_removed() -> None:
    book = Book()
    _, planting = planted(book, plants=None)
    book.write("transplant", {}, planting=planting)
    book.write("remove_plant", {}, planting=planting, plants=[2])
    assert planting_of(book, planting)["standing"] is True
    book.write("remove_plant", {}, planting=planting)
    assert planting_of(book, planting)["until_day"] == TODAY


def test_end_that_was_written_down_goes_before_removals() -> None:
    book = Book()
    _, planting = planted(book, ended_on="2026-09-30")
    book.write("remove_plant", {}, planting=planting)
    assert planting_of(book, planting)["until_day"] == parse_day("2026-09-30")


def test_settings_are_last_written_field_by_field() -> None:
    book = Book()
    book.write("garden", {"name": "Home"})
    zone = book.write("setting", {"zone": "Europe/Madrid", "elevation_m": 600})
    book.write("setting", {"elevation_m": None, "walk_order": []})
    assert ledger_of(book).settings() == {
        "name": "Home",
        "zone": "Europe/Madrid",
        "walk_order": [],
    }
    ledger = ledger_of(book)
    assert ledger.add([book.void(zone)]) == {"garden"}
    assert "zone" not in ledger.settings()


def test_a_version_of_the_future_is_listed_and_changes_nothing() -> None:
    book = Book()
    _, planting = planted(book)
    before = ledger_of(book).snapshot()
    newer = book.write("pick", {"baskets": [1]}, planting=planting, version=2)
    book.void(newer)
    after = ledger_of(book).snapshot()
    assert after.pop("unread") == [newer["id"]]
    assert after == {key: before[key] for key in after}


def test_a_kind_of_the_future_is_an_event_and_changes_no_place() -> None:
    book = Book()
    bed, _ = planted(book)
    before = ledger_of(book).snapshot()
    unheard = book.write("moonlight", {"lux": 1}, bed=bed)
    after = ledger_of(book).snapshot()
    assert after.pop("events")[-1]["id"] == unheard["id"]
    assert after == {key: before[key] for key in after}


def test_reached_by_a_bed_lists_its_plantings_and_by_the_garden_everything() -> None:
    book = Book()
    south, planting = planted(book)
    north = book.write("bed", {"name": "North"})["id"]
    loose = book.write("planting", {"crop": "leek"})["id"]
    ledger = ledger_of(book)
    assert ledger.reached_by({f"bed:{south}"}) == [f"bed:{south}", f"planting:{planting}"]
    assert ledger.reached_by({f"planting:{loose}"}) == [f"planting:{loose}"]
    assert ledger.reached_by({"garden"}) == sorted(
        [f"bed:{south}", f"bed:{north}", f"planting:{planting}", f"planting:{loose}"]
    )


def test_planting_that_changes_bed_touches_both_beds_and_those_beside_them() -> None:
    book = Book()
    south, planting = planted(book)
    north = book.write("bed", {"name": "North"})["id"]
    beside = book.write("bed", {"name": "Edge", "beside": [north]})["id"]
    ledger = ledger_of(book)
    touched = ledger.add([book.write("planting", {}, bed=north, planting=planting)])
    assert touched == {f"bed:{south}", f"bed:{north}", f"bed:{beside}", f"planting:{planting}"}


def test_note_about_nothing_in_particular_touches_nothing() -> None:
    assert Ledger().add([an_entry("note", subjects={})]) == set()


def test_forget_leaves_an_entry_out_and_brings_back_what_it_took() -> None:
    book = Book()
    _, planting = planted(book)
    pick = book.write("pick", {"count": 5}, planting=planting)
    ledger = ledger_of(book)
    before = ledger.snapshot()
    void: Entry = book.void(pick)
    ledger.add([void])
    assert ledger.event(pick["id"]) is None
    assert ledger.forget([void["id"]]) == {f"planting:{planting}", f"bed:{book.entries[0]['id']}"}
    assert ledger.snapshot() == before
    assert ledger.forget([void["id"]]) == set()


ODD_SUBJECTS = ({"plants": 5}, {"plants": None}, {"bed": [1]}, {"planting": {}}, {"plants": ["a"]})


@pytest.mark.parametrize("subjects", ODD_SUBJECTS)
def test_entry_that_cannot_be_told_is_kept_unread_and_the_others_are_folded(subjects: Any) -> None:
    book = Book()
    odd = book.write("moonlight", {"lux": 1})
    odd["subjects"] = subjects
    _, planting = planted(book)
    ledger = ledger_of(book)
    assert ledger.snapshot()["unread"] == [odd["id"]]
    assert ledger.planting(planting) is not None
    ledger.forget([odd["id"]])
    assert ledger.snapshot()["unread"] == []


def test_number_of_plants_may_be_written_as_a_decimal_number() -> None:
    book = Book()
    _, planting = planted(book, plants=5.0)
    book.write("remove_plant", planting=planting, plants=[2])
    assert live_plants(planting_of(book, planting)) == [1, 3, 4, 5]
