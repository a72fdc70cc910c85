"""Rounds of looking, thresholds and what follows from a find, over a garden's log."""

from typing import Any

import pytest

from shedbook.crops import load_crops, load_organisms
from shedbook.rules.near_removed import neighbours_of
from shedbook.rules.sessions import read_session, split_sessions
from shedbook.words import load_words
from tests.unit.rules.logbook import HERE, Logbook

ORGANISMS = load_organisms()
CROPS = load_crops()
ROWS = [
    (organism, kind, row)
    for organism, facts in ORGANISMS.items()
    for kind in ("thresholds", "catches")
    for row in facts.get(kind, [])
]


def _event(at: int, details: dict[str, Any], plants: list[int] | None = None) -> dict[str, Any]:
    named = {} if plants is None else {"planting": "p", "plants": plants}
    return {"id": f"e{at}", "instant": at, "details": details} | named


def test_a_round_ends_a_day_before_its_last_entry() -> None:
    events = [_event(at, {}) for at in (0, 3600, 86_400, 2 * 86_400 + 1)]
    assert [[event["instant"] for event in one] for one in split_sessions(events)] == [
        [0],
        [3600, 86_400],
        [2 * 86_400 + 1],
    ]


def test_counts_of_named_plants_tell_them_apart() -> None:
    session = read_session([_event(0, {"counts": [0, 4, 0]}, [2, 5, 9])])
    assert session.known == {2: False, 5: True, 9: False}
    assert (session.looked, session.affected, session.mean) == (3, 1, pytest.approx(4 / 3))


def test_a_plant_looked_at_twice_is_as_it_was_seen_last() -> None:
    session = read_session(
        [_event(0, {"grade": "few"}, [1, 2]), _event(60, {"grade": "none"}, [2, 3])]
    )
    assert session.known == {1: True, 2: False, 3: False}
    assert (session.looked, session.affected) == (3, 1)


@pytest.mark.parametrize(
    "details",
    [{}, {"grade": "some"}, {"plants_looked": "x", "plants_affected": 2}, {"plants_looked": 0}],
)
def test_a_round_that_says_no_numbers_has_no_share(details: dict[str, Any]) -> None:
    session = read_session([_event(0, details)])
    assert not session.has_share
    assert session.mean is None


@pytest.mark.parametrize(
    ("plant", "near"), [(1, [2, 4]), (2, [1, 3, 5]), (5, [2, 4, 6, 8]), (7, [4, 8]), (8, [5, 7])]
)
def test_neighbours_stand_in_the_row_and_across_it(plant: int, near: list[int]) -> None:
    # Three rows of three, of which the last holds two.
    assert neighbours_of(plant, 8, 3) == near


def test_soft_rot_is_looked_for_two_weeks_after_the_borer_and_not_after_three() -> None:
    book = Logbook()
    found = {"organism": "european_corn_borer", "plants_looked": 6, "plants_affected": 2}
    book.write("scout", "2026-07-01T08:00:00+02:00", found)
    rule = "look_for_soft_rot"
    assert [made["state"] for made in book.findings("2026-07-14T12:00:00+02:00", rule)] == [
        "upcoming"
    ]
    due = book.findings("2026-07-16T12:00:00+02:00", rule)
    assert [made["state"] for made in due] == ["due"]
    assert due[0]["settles"] == {"kind": "scout", "details": {"organism": "soft_rot"}}
    assert not book.findings("2026-08-20T12:00:00+02:00", rule)
    book.write("scout", "2026-07-16T13:00:00+02:00", {"organism": "soft_rot", "grade": "none"})
    assert not book.findings("2026-07-17T12:00:00+02:00", rule)


def test_a_find_of_no_borer_asks_for_no_look_for_rot() -> None:
    book = Logbook()
    found = {"organism": "european_corn_borer", "plants_looked": 6, "plants_affected": 0}
    book.write("scout", "2026-07-01T08:00:00+02:00", found)
    assert not book.findings("2026-07-16T12:00:00+02:00", "look_for_soft_rot")


def test_no_answer_of_a_threshold_offers_a_treatment_by_one_tap() -> None:
    book = Logbook()
    book.write(
        "scout",
        "2026-07-01T08:00:00+02:00",
        {"organism": "hornworm", "plants_looked": 6, "plants_affected": 6},
        HERE,
    )
    book.write(
        "setting",
        "2026-06-01T08:00:00+02:00",
        {"thresholds": {"scout_threshold.hornworm": 0.1}},
        {},
    )
    found = book.findings("2026-07-02T08:00:00+02:00", "scouting")
    assert [(made["state"], made["settles"]) for made in found] == [("due", None)]


@pytest.mark.parametrize(("organism", "kind", "row"), ROWS)
def test_a_threshold_names_known_crops_a_source_and_words(
    organism: str, kind: str, row: dict[str, Any]
) -> None:
    words = load_words()
    families = {crop["family"] for crop in CROPS.values()}
    assert set(row.get("crops", [])) <= set(CROPS)
    assert set(row.get("families", [])) <= families
    assert f"organism.{organism}" in words
    assert f"choice.threshold_region.{row['region']}" in words
    assert f"source.{row['source']}" in words
    assert "note" not in row or f"choice.limit_note.{row['note']}" in words
    figure = row["limit_per_night" if kind == "catches" else "limit"]
    assert figure > 0
    if kind == "thresholds":
        assert row["measure"] == "mean" or figure < 1
        assert f"choice.per_what.{row['per']}" in words


def test_every_organism_says_how_it_is_counted_and_has_a_name() -> None:
    words = load_words()
    families = {crop["family"] for crop in CROPS.values()}
    for organism, facts in ORGANISMS.items():
        assert facts["measure"] in ("share", "mean"), organism
        assert facts["per"] in ("plant", "leaf", "fruit", "bud"), organism
        assert f"organism.{organism}" in words
        assert set(facts.get("crops", [])) <= set(CROPS), organism
        assert set(facts.get("families", [])) <= families, organism
