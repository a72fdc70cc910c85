"""What a rule may see of the garden."""

from typing import Any

from shedbook.log.ledger import Ledger
from shedbook.log.view import view_of_bed, view_of_planting
from tests.builders import START, Book

DAY = 86_400


def a_garden() -> tuple[Book, dict[str, str]]:
    """Two beds beside each other, a third apart, a planting in each."""
    book = Book()
    ids = {}
    ids["south"] = book.write("bed", {"name": "South"})["id"]
    ids["north"] = book.write("bed", {"name": "North", "beside": [ids["south"]]})["id"]
    ids["apart"] = book.write("bed", {"name": "Apart"})["id"]
    for bed in ("south", "north", "apart"):
        ids[f"in_{bed}"] = book.write("planting", {"crop": "pepper"}, bed=ids[bed])["id"]
    return book, ids


def views(book: Book, ids: dict[str, str], place: str) -> tuple[dict[str, Any], dict[str, Any]]:
    ledger = Ledger()
    ledger.add(book.entries)
    of_bed = view_of_bed(ledger, ids[place])
    of_planting = view_of_planting(ledger, ids[f"in_{place}"])
    assert of_bed is not None
    assert of_planting is not None
    return of_bed, of_planting


def kinds_of(view: dict[str, Any]) -> list[str]:
    return [event["kind"] for event in view["events"]]


def test_planting_sees_its_own_events_those_of_its_bed_and_the_weather_by_time() -> None:
    book, ids = a_garden()
    book.write("water", bed=ids["south"], at=START + 3 * DAY)
    book.write("rain", at=START + 2 * DAY)
    book.write("sow", planting=ids["in_south"], at=START)
    book.write("scout", bed=ids["south"], planting=ids["in_south"], at=START + DAY)
    book.write("pick", bed=ids["apart"], planting=ids["in_apart"])
    book.write("air_temperature", bed=ids["apart"])
    of_bed, of_planting = views(book, ids, "south")
    assert kinds_of(of_planting) == ["sow", "scout", "rain", "water"]
    assert kinds_of(of_bed) == ["scout", "rain", "water"]


def test_planting_that_moved_still_sees_what_it_went_through_elsewhere() -> None:
    book, ids = a_garden()
    book.write("treat", bed=ids["south"], planting=ids["in_south"], at=START)
    book.write("transplant", bed=ids["apart"], planting=ids["in_south"], at=START + DAY)
    ledger = Ledger()
    ledger.add(book.entries)
    view = view_of_planting(ledger, ids["in_south"])
    assert view is not None
    assert kinds_of(view) == ["treat", "transplant"]
    assert view["subject"] == {"bed": ids["apart"], "planting": ids["in_south"]}


def test_beds_beside_each_other_see_each_others_plantings_whoever_names_whom() -> None:
    book, ids = a_garden()
    for place, neighbour in (("south", "in_north"), ("north", "in_south")):
        for view in views(book, ids, place):
            assert [one["id"] for one in view["neighbours"]] == [ids[neighbour]]
            assert [one["id"] for one in view["residents"]] == [ids[f"in_{place}"]]
    of_bed, _ = views(book, ids, "apart")
    assert of_bed["neighbours"] == []


def test_view_carries_bed_planting_and_settings() -> None:
    book, ids = a_garden()
    book.write("garden", {"name": "Home"})
    of_bed, of_planting = views(book, ids, "south")
    assert (of_bed["kind"], of_bed["subject"]) == ("bed", {"bed": ids["south"]})
    assert of_bed["planting"] is None
    assert of_planting["kind"] == "planting"
    assert of_planting["planting"]["id"] == ids["in_south"]
    for view in (of_bed, of_planting):
        assert view["bed"]["name"] == "South"
        assert view["settings"] == {"name": "Home"}


def test_planting_without_a_bed_is_alone_with_its_events() -> None:
    book = Book()
    planting = book.write("planting", {"crop": "leek"})["id"]
    book.write("sow", planting=planting)
    ledger = Ledger()
    ledger.add(book.entries)
    view = view_of_planting(ledger, planting)
    assert view is not None
    assert view["bed"] is None
    assert view["subject"] == {"planting": planting}
    assert [one["id"] for one in view["residents"]] == [planting]
    assert kinds_of(view) == ["sow"]


def test_view_of_what_is_hidden_or_unknown_is_none() -> None:
    book, ids = a_garden()
    book.void(book.entries[0])
    book.void(book.entries[4])
    ledger = Ledger()
    ledger.add(book.entries)
    assert view_of_bed(ledger, ids["south"]) is None
    assert view_of_planting(ledger, ids["in_north"]) is None
    assert view_of_bed(ledger, "nowhere") is None
    assert view_of_planting(ledger, "nobody") is None


def test_planting_that_moved_takes_along_what_was_sprayed_on_its_old_bed_while_it_was_there() -> (
    None
):
    for move in ("transplant", "planting"):
        book, ids = a_garden()
        book.write("treat", bed=ids["south"], at=START + DAY)
        book.write(move, {}, bed=ids["apart"], planting=ids["in_south"], at=START + 2 * DAY)
        book.write("treat", bed=ids["south"], at=START + 3 * DAY)
        ledger = Ledger()
        ledger.add(book.entries)
        view = view_of_planting(ledger, ids["in_south"])
        assert view is not None
        assert [one["day"] for one in view["events"] if one["kind"] == "treat"] == [
            START // DAY + 1
        ]


def test_treatment_of_a_bed_reaches_the_planting_that_has_left_it() -> None:
    book, ids = a_garden()
    book.write("transplant", bed=ids["apart"], planting=ids["in_south"], at=START + 2 * DAY)
    ledger = Ledger()
    ledger.add(book.entries)
    touched = ledger.add([book.write("treat", bed=ids["south"], at=START + DAY)])
    assert f"planting:{ids['in_south']}" in ledger.reached_by(touched)


def test_treatment_that_names_only_a_planting_is_seen_by_its_bed_and_by_its_neighbours() -> None:
    book, ids = a_garden()
    other = book.write("planting", {"crop": "leek"}, bed=ids["apart"])["id"]
    ledger = Ledger()
    ledger.add(book.entries)
    touched = ledger.add([book.write("treat", planting=ids["in_apart"])])
    for key, view in (
        (f"bed:{ids['apart']}", view_of_bed(ledger, ids["apart"])),
        (f"planting:{other}", view_of_planting(ledger, other)),
    ):
        assert view is not None
        assert kinds_of(view) == ["treat"]
        assert key in ledger.reached_by(touched)
