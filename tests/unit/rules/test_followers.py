"""What may follow in a bed: the ranking, its weights, and the phone's twin of it."""

from typing import Any

import pytest

from shedbook.log.ledger import Ledger
from shedbook.log.moment import day_text, parse_day
from shedbook.log.view import view_of_bed
from shedbook.rules.followers import Follower, followers, next_season_day, season_day
from shedbook.rules.rulebook import load_rulebook
from tests.unit.reports.seasons import Season
from tests.unit.rules.gardens import RandomGarden
from tests.unit.rules.twin import as_json, ask_phone

RULEBOOK = load_rulebook()
TODAY = parse_day("2026-11-20")
GARDENS = 25


def ranked(season: Season, crops: str, own: str = "", day: str = "2027-05-15") -> list[Follower]:
    view = view_of_bed(season.ledger, "a")
    assert view is not None
    return followers(
        view, RULEBOOK, TODAY, TODAY * 86_400, parse_day(day), crops.split(), set(own.split())
    )


def costs(found: list[Follower]) -> dict[str, float]:
    return {one["crop"]: one["cost"] for one in found}


def old_bed() -> Season:
    """A bed with a log of many years, so that a young log weighs nothing."""
    season = Season()
    season.bed("a")
    season.planting("a", "buckwheat", "2020-05-01", "2020-09-01")
    return season


def test_followers_after_peppers_with_blight_rank_brassicas_first_and_squash_last() -> None:
    season = old_bed()
    season.planting("a", "pepper", "2026-05-10", "2026-10-01")
    season.spot("a", "phytophthora_blight", "2026-08-01")
    found = ranked(season, "summer_squash cabbage lettuce bean pepper")
    assert [one["crop"] for one in found] == [
        *("cabbage", "lettuce", "bean", "summer_squash", "pepper")
    ]
    assert costs(found)["cabbage"] < 0
    assert costs(found)["summer_squash"] >= 40


def test_followers_tell_why() -> None:
    season = old_bed()
    season.planting("a", "pepper", "2026-05-10", "2026-10-01")
    season.spot("a", "verticillium_wilt", "2026-08-01")
    (told,) = ranked(season, "strawberry")
    assert told["findings"][0]["rule"] == "soil_rest"
    assert {made["rule"] for made in told["findings"]} == {"soil_rest", "shared_hosts"}


def test_followers_that_rank_alike_put_what_is_grown_here_first() -> None:
    found = ranked(old_bed(), "oats wheat barley", own="wheat")
    assert [one["crop"] for one in found] == ["wheat", "barley", "oats"]


def test_neighbours_weigh_less_than_a_rest_and_a_rest_less_than_the_soil() -> None:
    weights = {rule["id"]: rule["params"] for rule in RULEBOOK["rules"]}
    lightest = max(max(weights[rule]["weights"].values()) for rule in ("keep_apart", "follow_on"))
    assert lightest < weights["shared_hosts"]["weight_noted"]
    assert weights["shared_hosts"]["weight_noted"] < weights["rotation_rest"]["weight"]
    assert weights["rotation_rest"]["weight"] < weights["soil_rest"]["weight_unknown"]
    assert weights["soil_rest"]["weight_unknown"] < weights["soil_rest"]["weight"]


def test_a_passed_interval_still_weighs_something() -> None:
    season = old_bed()
    season.spot("a", "phytophthora_blight", "2020-08-01")
    found = costs(ranked(season, "pumpkin oats"))
    assert 0 < found["pumpkin"] - found["oats"] < 12


@pytest.mark.parametrize(
    ("frost", "today", "day"),
    [
        ("04-20", "2026-11-20", "2027-04-20"),
        ("04-20", "2026-04-19", "2026-04-20"),
        ("04-20", "2026-04-20", "2027-04-20"),
        (None, "2026-11-20", "2027-05-15"),
        ("never", "2026-11-20", "2027-05-15"),
        ("02-29", "2026-11-20", "2027-05-15"),
        (7, "2026-11-20", "2027-05-15"),
    ],
)
def test_next_season_begins_after_the_last_frost(frost: Any, today: str, day: str) -> None:
    settings = {} if frost is None else {"last_frost": frost}
    assert day_text(next_season_day(settings, parse_day(today))) == day
    assert day_text(season_day(settings, int(day[:4]))) == day


def test_phone_and_shed_rank_alike_on_random_gardens() -> None:
    asked: list[dict[str, Any]] = []
    told = []
    for seed in range(GARDENS):
        garden = RandomGarden(seed)
        ledger = Ledger()
        ledger.add(garden.entries)
        view = view_of_bed(ledger, garden.beds[0])
        if view is None:
            continue
        crops = sorted({*RULEBOOK["crops"], "oca"})
        day, own = garden.today + 150, {"pepper", "oca"}
        told.append(followers(view, RULEBOOK, garden.today, garden.now, day, crops, own))
        asked.append(
            {
                "view": view,
                "today": garden.today,
                "now": garden.now,
                "day": day,
                "crops": crops,
                "own": sorted(own),
            }
        )
    answers = ask_phone([{"rulebook": RULEBOOK}, *asked])[1:]
    assert len(told) > GARDENS / 2
    assert as_json(told) == answers
    assert len({one["cost"] for found in told for one in found}) > 5
