"""A proposal on whole gardens: what goes where, what stays out, and why."""

import itertools
from typing import Any

import pytest

from shedbook.log.ledger import Ledger
from shedbook.log.moment import parse_day
from shedbook.log.view import view_of_bed
from shedbook.reports.proposal import OTHER_BED, UNMET, propose
from shedbook.rules.beside import pair_of
from shedbook.rules.followers import season_day, try_crop
from shedbook.rules.match import Context, context_of
from shedbook.rules.rulebook import load_rulebook
from tests.unit.reports.seasons import Season, random_season

TODAY = parse_day("2026-11-20")
NOW = TODAY * 86_400
RULEBOOK = load_rulebook()


def proposal(ledger: Ledger, seconds: float = 20) -> dict[str, Any]:
    return propose(ledger, RULEBOOK, 2027, TODAY, NOW, seconds)


def bed_of(found: dict[str, Any], wish: str) -> str | None:
    for bed in found["beds"]:
        if wish in [one["wish"] for one in bed["placed"]]:
            return str(bed["bed"])
    return None


def reasons_of(found: dict[str, Any], wish: str) -> list[str]:
    placed = [one for bed in found["beds"] for one in bed["placed"]]
    (told,) = [one for one in placed + found["unmet"] if one["wish"] == wish]
    return [reason["key"] for reason in told["reasons"]]


class ByHand:
    """Weighs placings of a garden by the rules alone, without the solver's programme."""

    def __init__(self, ledger: Ledger, found: dict[str, Any]) -> None:
        told = [one for bed in found["beds"] for one in bed["placed"]] + found["unmet"]
        self.ledger = ledger
        self.wishes = {one["wish"]: one for one in told}
        self.areas = {bed["bed"]: bed["area_m2"] for bed in found["beds"]}
        self.day = season_day(ledger.settings(), 2027)
        self.contexts = {bed: self._context(bed) for bed in self.areas}
        self.costs = {
            (wish, bed): self._cost(wish, bed) for wish in self.wishes for bed in self.areas
        }
        (self.rule,) = [one for one in RULEBOOK["rules"] if one["shape"] == "beside"]
        self.apart = {
            pair: self._apart(*pair) for pair in itertools.combinations(sorted(self.wishes), 2)
        }

    def cost(self, placing: dict[str, str | None]) -> float:
        """Infinite where the ground is not enough."""
        used = dict.fromkeys(self.areas, 0.0)
        cost = 0.0
        for wish, bed in placing.items():
            if bed is None:
                cost += UNMET
                continue
            area = self.wishes[wish]["area_m2"]
            used[bed] += self.areas[bed] if area is None else area
            cost += self.costs[wish, bed]
        if any(used[bed] > self.areas[bed] + 1e-6 for bed in self.areas):
            return float("inf")
        for (one, other), apart in self.apart.items():
            if apart and self._is_near(placing[one], placing[other]):
                cost += apart
        return cost

    def _context(self, bed: str) -> Context:
        view = view_of_bed(self.ledger, bed)
        assert view is not None
        return context_of(view, RULEBOOK, TODAY, NOW)

    def _cost(self, wish: str, bed: str) -> float:
        told = self.wishes[wish]
        other = OTHER_BED if told["wanted_bed"] not in (None, bed) else 0
        cost: float = try_crop(self.contexts[bed], told["crop"], self.day)["cost"]
        return cost + other

    def _apart(self, one: str, other: str) -> float:
        context = next(iter(self.contexts.values()))
        pair = pair_of(context, self.rule, self.wishes[one], self.wishes[other])
        if pair is None or pair.get("good"):
            return 0
        weight: float = self.rule["params"]["weights"][pair["grade"]]
        return weight

    def _is_near(self, one: str | None, other: str | None) -> bool:
        if one is None or other is None:
            return False
        return one == other or other in self.ledger.beds_beside(one)


@pytest.mark.parametrize("seed", range(6))
def test_proposal_on_a_small_garden_equals_the_best_of_all_placings(seed: int) -> None:
    ledger = random_season(seed, beds=4, wishes=5)
    found = proposal(ledger)
    wishes = [f"w{at:02d}" for at in range(5)]
    choices = [None, *(bed["bed"] for bed in found["beds"])]
    every = [dict(zip(wishes, beds, strict=True)) for beds in itertools.product(choices, repeat=5)]
    by_hand = ByHand(ledger, found)
    told = {wish: bed_of(found, wish) for wish in wishes}
    assert found["cost"] == pytest.approx(by_hand.cost(told))
    best = min(by_hand.cost(placing) for placing in every)
    assert found["cost"] == pytest.approx(best)
    assert found["is_best"]


def test_proposal_for_thirty_beds_and_forty_wishes_is_best_or_prints_its_gap(
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = proposal(random_season(7, beds=30, wishes=40), seconds=15)
    with capsys.disabled():
        print(f"\n30 beds, 40 wishes: weight {found['cost']:g}, gap {found['gap']:g}")
    assert len(found["beds"]) == 30
    assert sum(len(bed["placed"]) for bed in found["beds"]) + len(found["unmet"]) == 40
    assert found["is_best"] == (found["gap"] < 1e-3)


def test_proposal_keeps_hosts_out_of_ground_where_their_trouble_was() -> None:
    season = Season()
    for bed in ("sick", "other"):
        season.bed(bed)
        season.planting(bed, "pepper" if bed == "sick" else "lettuce", "2026-05-10", "2026-10-01")
    season.spot("sick", "phytophthora_blight", "2026-08-01")
    season.wish("squash", "pumpkin", area_m2=4)
    season.wish("brassica", "cabbage", area_m2=4)
    found = proposal(season.ledger)
    assert bed_of(found, "squash") == "other"
    assert bed_of(found, "brassica") == "sick"
    assert found["unmet"] == []


def test_proposal_names_what_speaks_against_a_wanted_bed() -> None:
    season = Season()
    for bed in ("sick", "other"):
        season.bed(bed)
    season.spot("sick", "verticillium_wilt", "2026-08-01")
    season.wish("berries", "strawberry", "sick", area_m2=4)
    found = proposal(season.ledger)
    assert bed_of(found, "berries") == "other"
    assert "proposal.other_bed" in reasons_of(found, "berries")


def test_proposal_without_wishes_is_empty_and_best() -> None:
    season = Season()
    season.bed("a")
    found = proposal(season.ledger)
    assert (found["unmet"], found["cost"], found["is_best"]) == ([], 0, True)
    assert [bed["placed"] for bed in found["beds"]] == [[]]


def test_unmet_wish_that_no_bed_is_large_enough_for_says_so() -> None:
    season = Season()
    season.bed("a")
    season.wish("much", "potato", area_m2=50)
    found = proposal(season.ledger)
    assert reasons_of(found, "much") == ["proposal.no_room"]
    assert found["unmet"][0]["reasons"][0]["values"]["free_m2"] == 5


def test_unmet_wish_without_beds_says_so() -> None:
    season = Season()
    season.wish("any", "potato", area_m2=1)
    assert reasons_of(proposal(season.ledger), "any") == ["proposal.no_beds"]


def test_unmet_wish_whose_ground_others_take_names_them() -> None:
    season = Season()
    season.bed("a")
    season.planting("a", "tomato", "2026-05-10", "2026-10-01")
    season.wish("beans", "bean", area_m2=4)
    season.wish("peppers", "pepper", area_m2=4)
    found = proposal(season.ledger)
    assert bed_of(found, "beans") == "a"
    (reason,) = found["unmet"][0]["reasons"]
    assert reason == {
        "key": "proposal.taken",
        "values": {"crop": "pepper", "other_crops": ["bean"]},
    }


def test_unmet_wish_with_too_much_against_it_tells_what() -> None:
    season = Season()
    season.bed("a")
    for trouble in ("verticillium_wilt", "phytophthora_blight", "anthracnose"):
        season.spot("a", trouble, "2026-08-01")
    season.wish("peppers", "pepper", area_m2=1)
    (told,) = proposal(season.ledger)["unmet"]
    assert [reason["key"] for reason in told["reasons"]] == ["proposal.conflict"]
    assert {made["rule"] for made in told["findings"]} >= {"soil_rest"}


def test_wish_of_unknown_size_has_a_bed_to_itself() -> None:
    season = Season()
    season.bed("a")
    season.wish("first", "buckwheat")
    season.wish("second", "buckwheat", area_m2=1)
    found = proposal(season.ledger)
    assert len(found["unmet"]) == 1


def test_wish_in_plants_takes_the_ground_that_the_crop_took_here() -> None:
    season = Season()
    season.bed("a")
    planting = season.planting("a", "pepper", "2026-05-10", "2026-10-01")
    apart = {"in_row_m": 0.5, "between_rows_m": 0.8}
    season.write("planting", "2026-05-11", apart, {"planting": planting}, "spaced")
    season.wish("peppers", "pepper", plants=10)
    (told,) = [one for bed in proposal(season.ledger)["beds"] for one in bed["placed"]]
    assert told["area_m2"] == pytest.approx(10 * 0.5 * 0.8)


def test_perennials_and_plantings_of_the_season_keep_their_ground() -> None:
    season = Season()
    for bed in ("berries", "planned", "retired", "free"):
        season.bed(bed, **({"retired_on": "2026-12-01"} if bed == "retired" else {}))
    season.planting("berries", "strawberry", "2025-08-10")
    planned = {"crop": "tomato", "planned_on": "2027-05-20"}
    season.write("planting", "2026-11-01", planned, {"planting": "p", "bed": "planned"}, "p")
    season.planting("free", "lettuce", "2026-08-10")
    season.wish("one", "carrot", area_m2=2)
    found = proposal(season.ledger)
    assert {bed["bed"]: bed["room_share"] for bed in found["beds"]} == {
        "berries": 0,
        "planned": 0,
        "free": 1,
    }
    assert bed_of(found, "one") == "free"


def test_a_wish_that_was_taken_back_or_is_for_another_year_is_left_out() -> None:
    season = Season()
    season.bed("a")
    season.wish("kept", "carrot", area_m2=1)
    season.wish("other_year", "carrot", area_m2=1, season=2028)
    season.wish("gone", "carrot", area_m2=1)
    season.write("void", "2026-11-02", {"entry": "gone"}, {}, "taken-back")
    found = proposal(season.ledger)
    assert [one["wish"] for bed in found["beds"] for one in bed["placed"]] == ["kept"]


@pytest.mark.parametrize("odd", [{"area_m2": -3}, {"plants": 0}, {"area_m2": "wide"}, {"crop": 7}])
def test_odd_wishes_break_nothing(odd: dict[str, Any]) -> None:
    season = Season()
    season.bed("a", length_m=-1)
    season.write("wish", "2026-11-01", {"crop": "carrot", "season": 2027} | odd, {}, "odd")
    assert proposal(season.ledger)["is_best"]
