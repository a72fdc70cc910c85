"""What a season of looking adds up to: rounds, hot spots, progress, traps."""

from typing import Any

import pytest

from shedbook.log.moment import parse_day
from shedbook.reports.hot_spots import hot_spot, known_plants
from shedbook.reports.scouting import scouting_report
from shedbook.reports.traps import week_of
from shedbook.rules.rulebook import load_rulebook
from shedbook.rules.sessions import Session
from tests.unit.rules.logbook import HERE, Logbook

TODAY = parse_day("2026-07-20")
NOW = TODAY * 86_400 + 43_200
PEPPERS = {"plants": 24, "rows": 4}


def _report(book: Logbook, **asked: Any) -> dict[str, Any]:
    return scouting_report(book.ledger, load_rulebook(), TODAY, NOW, **asked)


def _scout(book: Logbook, at: str, affected: int, organism: str = "bacterial_spot") -> None:
    found = {"organism": organism, "plants_looked": 6, "plants_affected": affected}
    book.write("scout", f"{at}T08:00:00+02:00", found)


def _session(known: dict[int, bool]) -> Session:
    return Session([], looked=len(known), affected=sum(known.values()), known=known, has_share=True)


def test_rounds_of_a_season_stand_in_order_with_their_shares() -> None:
    book = Logbook()
    for at, affected in (("2026-06-01", 0), ("2026-06-15", 2), ("2026-07-01", 3)):
        _scout(book, at, affected)
    (told,) = _report(book)["looked"]
    assert told["organism"] == "bacterial_spot"
    assert [one["affected_share"] for one in told["sessions"]] == [0, 2 / 6, 3 / 6]
    assert [one["decision"] for one in told["sessions"]] == [
        "none_found",
        "disease_found",
        "disease_found",
    ]


def test_progress_is_the_area_between_the_rounds() -> None:
    book = Logbook()
    _scout(book, "2026-06-01", 0)
    _scout(book, "2026-06-11", 6)
    (told,) = _report(book)["looked"]
    assert told["progress"]["area"] == pytest.approx(500)
    assert told["progress"]["relative_share"] == pytest.approx(0.5)
    assert told["progress"]["until_day"] - told["progress"]["from_day"] == 10


def test_one_round_makes_no_progress() -> None:
    book = Logbook()
    _scout(book, "2026-06-01", 1)
    assert _report(book)["looked"][0]["progress"] is None


def test_report_can_be_asked_for_one_organism_or_one_bed() -> None:
    book = Logbook()
    _scout(book, "2026-06-01", 1)
    _scout(book, "2026-06-01", 1, "aphids")
    assert [one["organism"] for one in _report(book, organism="aphids")["looked"]] == ["aphids"]
    assert _report(book, bed="elsewhere")["looked"] == []
    assert len(_report(book, bed=HERE["bed"])["looked"]) == 2


def test_a_block_of_affected_plants_is_a_patch() -> None:
    block = {plant: plant in (1, 2, 3, 7, 8, 9) for plant in range(1, 25)}
    told = hot_spot(PEPPERS, _session(block), TODAY)
    assert told["key"] == "hot_spot.patches"
    assert told["values"]["pairs"] == 7
    assert told["values"]["chance"] <= 0.01
    assert hot_spot(PEPPERS, _session(block), TODAY) == told


def test_scattered_plants_are_no_patch() -> None:
    scattered = {plant: plant in (1, 5, 9, 13, 17, 21) for plant in range(1, 25)}
    assert hot_spot(PEPPERS, _session(scattered), TODAY)["key"] == "hot_spot.by_chance"


def test_a_few_named_plants_make_no_map() -> None:
    told = hot_spot(PEPPERS, _session({1: True, 2: True, 3: False}), TODAY)
    assert told == {"key": "hot_spot.not_mapped", "values": {"known": 3, "needed": 8}}


def test_when_every_plant_was_looked_at_the_unnamed_ones_had_nothing() -> None:
    session = Session([], looked=24, affected=2, known={3: True, 4: True}, has_share=True)
    known = known_plants(PEPPERS, session, TODAY)
    assert len(known) == 24
    assert [plant for plant, is_ill in known.items() if is_ill] == [3, 4]


def test_plants_taken_out_before_the_round_are_not_on_the_map() -> None:
    session = Session([], looked=23, affected=1, known={3: True}, has_share=True)
    planting = PEPPERS | {"removed": {"9": TODAY - 3}}
    assert 9 not in known_plants(planting, session, TODAY)
    assert len(known_plants(planting, session, TODAY)) == 23


def test_catches_are_summed_by_the_week() -> None:
    book = Logbook()
    trap = {"trap": "Door", "organism": "european_corn_borer"}
    book.write("trap_set", "2026-06-29T20:00:00+02:00", {"trap": "Door", "trap_kind": "light"}, {})
    for day, count in (("2026-07-02", 6), ("2026-07-04", 4), ("2026-07-08", 8)):
        book.write("trap_read", f"{day}T08:00:00+02:00", trap | {"count": count}, {})
    (caught,) = _report(book)["catches"]
    assert [(week["count"], week["nights"]) for week in caught["weeks"]] == [(10, 5), (8, 4)]
    assert [week["a_week"] for week in caught["weeks"]] == [14, 14]
    assert caught["weeks"][0]["week_day"] == parse_day("2026-06-29")


def test_weeks_begin_on_monday() -> None:
    assert week_of(parse_day("2026-07-06")) == parse_day("2026-07-06")
    assert week_of(parse_day("2026-07-12")) == parse_day("2026-07-06")
