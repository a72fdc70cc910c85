"""A season looked back on: totals, plants that were taken out, and what was never written down."""

from typing import Any

from shedbook.log.moment import parse_moment
from shedbook.reports.review import review
from shedbook.rules.rulebook import load_rulebook
from tests.unit.rules.logbook import BED, HERE, PEPPERS, Logbook

CLOSING = "2026-10-01T12:00:00+02:00"


def review_of(book: Logbook, season: int = 2026, at: str = CLOSING) -> dict[str, Any]:
    moment = parse_moment(at)
    return review(book.ledger, load_rulebook(), season, moment.day, moment.instant)


def peppers(book: Logbook) -> dict[str, Any]:
    (told,) = review_of(book)["plantings"]
    return dict(told)


def test_picks_add_up_in_fruits_and_in_grams_each_where_it_was_written() -> None:
    book = Logbook()
    book.write("pick", "2026-07-10T09:00:00+02:00", {"count": 5, "mass_g": 400})
    book.write("pick", "2026-07-20T09:00:00+02:00", {"count": 7})
    told = peppers(book)
    assert (told["picked_count"], told["picked_g"]) == (12, 400)
    assert told["count_per_plant"] == 2
    assert told["mean_pick_gap_days"] == 10
    assert told["rests_on"] == {"entries": {"transplant": 1, "pick": 2}, "picks_weighed": 1}


def test_what_was_never_weighed_is_not_nothing() -> None:
    book = Logbook()
    book.write("pick", "2026-07-10T09:00:00+02:00", {"count": 5})
    told = peppers(book)
    assert told["picked_g"] is None
    assert told["g_per_plant"] is None
    assert told["g_per_m2"] is None


def test_a_plant_taken_out_counts_for_the_days_that_it_stood() -> None:
    book = Logbook()
    taken_out = {**HERE, "plants": [1, 2, 3]}
    book.write("remove_plant", "2026-07-05T09:00:00+02:00", {"cause": "disease"}, taken_out)
    book.write("pick", "2026-07-10T09:00:00+02:00", {"count": 30})
    told = peppers(book)
    assert told["removed"] == [{"cause": "disease", "plants_count": 3}]
    # Six plants for 86 days (10 April to 4 July), three for 89 (to 1 October).
    assert told["mean_plants"] == (6 * 86 + 3 * 89) / 175
    assert told["count_per_plant"] == 30 / told["mean_plants"]


def test_losses_are_added_up_by_cause() -> None:
    book = Logbook()
    book.write("discard", "2026-07-10T09:00:00+02:00", {"count": 2, "cause": "sunscald"})
    book.write("discard", "2026-07-11T09:00:00+02:00", {"count": 3, "cause": "sunscald"})
    book.write("discard", "2026-07-12T09:00:00+02:00", {"mass_g": 90, "cause": "insect"})
    expected = [
        {"cause": "insect", "count": None, "mass_g": 90},
        {"cause": "sunscald", "count": 5, "mass_g": None},
    ]
    assert peppers(book)["losses"] == expected
    assert review_of(book)["losses"] == expected


def test_yield_of_the_ground_needs_the_spacing() -> None:
    book = Logbook()
    book.write("pick", "2026-07-10T09:00:00+02:00", {"mass_g": 900})
    assert peppers(book)["g_per_m2"] is None
    spacing = {"in_row_m": 0.5, "between_rows_m": 0.6}
    book.write("planting", "2026-04-11T09:00:00+02:00", spacing, {"planting": PEPPERS})
    assert peppers(book)["g_per_m2"] == 900 / (6 * 0.5 * 0.6)


def test_a_planting_is_told_in_the_season_in_which_it_stood() -> None:
    book = Logbook()
    assert review_of(book, 2025)["plantings"] == []
    assert len(review_of(book, 2026)["plantings"]) == 1
    ended = {"ended_on": "2026-09-20"}
    book.write("planting", "2026-09-20T09:00:00+02:00", ended, {"planting": PEPPERS})
    told = peppers(book)
    assert told["is_over"]
    assert told["last_day"] == parse_moment("2026-09-20T00:00:00+02:00").day
    assert review_of(book, 2027, "2027-05-01T09:00:00+02:00")["plantings"] == []


def test_what_the_rules_told_on_the_last_day_stands_beside_the_losses() -> None:
    book = Logbook()
    for day in (1, 3, 5, 7, 20):
        book.write("water", f"2026-06-{day:02d}T07:00:00+02:00", {"volume_l": 20})
    ended = {"ended_on": "2026-06-21"}
    book.write("planting", "2026-06-21T09:00:00+02:00", ended, {"planting": PEPPERS})
    found = {one["rule"]: one for one in peppers(book)["findings"]}
    assert found["even_water"]["state"] == "flagged"
    assert found["even_water"]["message"]["values"]["longest_gap_hours"] == 13 * 24


def test_treatments_are_told_once_whatever_they_were_written_on() -> None:
    book = Logbook()
    treat = {"method": "product", "product": "Sulphur", "days_to_harvest": 3}
    book.write("treat", "2026-06-01T07:00:00+02:00", treat)
    book.write("treat", "2026-06-02T07:00:00+02:00", treat, {"bed": BED})
    told = [event["day"] for event in review_of(book)["treatments"]]
    assert len(told) == 2
    assert told == sorted(told)


def test_days_of_stress_come_from_the_water_account_of_the_bed() -> None:
    book = Logbook()
    assert peppers(book)["water"] == []
    place = {"latitude_deg": 45, "longitude_deg": 5}
    book.write("setting", "2026-04-01T08:00:00+02:00", place, {})
    soil = {"type": "ground", "soil_texture": "loam", "length_m": 4, "width_m": 1}
    book.write("bed", "2026-04-01T08:00:00+02:00", soil, {"bed": BED})
    for day in range(10, 31):
        warm = {"low_c": 14, "high_c": 30}
        book.write("air_temperature", f"2026-04-{day}T20:00:00+02:00", warm, {})
        book.write("rain", f"2026-04-{day}T20:00:00+02:00", {"depth_mm": 0}, {})
    book.write("water", "2026-04-10T12:00:00+02:00", {"volume_l": 400}, {"bed": BED})
    (told,) = review_of(book, at="2026-04-30T21:00:00+02:00")["plantings"]
    days = {why["key"]: why["values"] for why in told["water"]}
    assert days["balance.stress"]["account_days"] >= 20
    assert 0 < days["balance.stress"]["stress_days"] < 20
