"""A scouting walk: its path over the bed, the entries it becomes, and what makes a hot spot."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.node import ask_node

RUNNER = Path(__file__).parents[2] / "twins" / "walks.mjs"
ROWS, A_ROW = 4, 10
PLANTING = {"plants": ROWS * A_ROW, "rows": ROWS, "in_row_m": 0.4, "between_rows_m": 0.4}
BED = {"length_m": 4, "width_m": 1.6}


def ask(request: dict[str, Any]) -> dict[str, Any]:
    told: dict[str, Any] = ask_node(RUNNER, request)
    return told


def path(count: int, how: str, seed: int = 7) -> dict[str, Any]:
    plants = [{"ordinal": at + 1, "row": at // A_ROW + 1} for at in range(ROWS * A_ROW)]
    return ask({"plants": plants, "count": count, "how": how, "seed": seed})


def read(found: dict[int, int], *, by: str = "grade") -> dict[str, Any]:
    """What a walk that found so many on each plant says; grades by their least number."""
    grades = {1: "few", 6: "some", 21: "many"}
    taps = [
        {"plant": plant, "found": count}
        | ({"grade": grades[count]} if by == "grade" and count else {})
        for plant, count in found.items()
    ]
    walk = {
        "garden": "g", "planting": "p", "organism": "aphids", "by": by, "per": "plant",
        "order": list(found), "lap": 5, "taps": taps, "startedMs": 1, "lastAt": "",
    }  # fmt: skip
    return ask({"walk": walk, "planting": PLANTING, "bed": BED})


@pytest.mark.parametrize("how", ["even", "random"])
def test_path_names_each_plant_once_and_is_the_same_for_the_same_seed(how: str) -> None:
    told = path(20, how)
    assert len(set(told["order"])) == 20
    assert told["lap"] == 5
    assert told == path(20, how)
    assert any(told != path(20, how, seed=seed) for seed in range(8, 12))


def test_first_lap_of_an_even_path_goes_over_every_row() -> None:
    told = path(20, "even")
    lap = told["order"][: told["lap"]]
    assert {(plant - 1) // A_ROW + 1 for plant in lap} == {1, 2, 3, 4}


def test_path_over_all_plants_leaves_none_out() -> None:
    assert sorted(path(99, "even")["order"]) == list(range(1, 41))


def test_graded_walk_becomes_an_entry_for_clean_plants_and_one_for_each_grade() -> None:
    told = read({3: 0, 9: 6, 1: 0, 12: 1})
    assert told["entries"] == [
        {
            "plants": [1, 3],
            "details": {
                "organism": "aphids", "plants_looked": 2, "plants_affected": 0, "grade": "none",
            },
        },
        {
            "plants": [12],
            "details": {
                "organism": "aphids", "plants_looked": 1, "plants_affected": 1, "grade": "few",
            },
        },
        {
            "plants": [9],
            "details": {
                "organism": "aphids", "plants_looked": 1, "plants_affected": 1, "grade": "some",
            },
        },
    ]  # fmt: skip
    assert told["figures"]["isAtLeast"]
    assert told["figures"]["mean"] == 7 / 4


def test_counted_walk_keeps_each_count_beside_its_plant() -> None:
    told = read({9: 4, 3: 0, 1: 2}, by="count")
    assert [one["plants"] for one in told["entries"]] == [[3], [1, 9]]
    assert [one["details"]["counts"] for one in told["entries"]] == [[0], [2, 4]]


def test_heavy_plant_is_a_hot_spot_only_among_enough_clean_ones() -> None:
    assert read({1: 21, 5: 0, 9: 0})["spot"] is None
    assert read({1: 1, 5: 0, 9: 0, 13: 0, 17: 0, 21: 0})["spot"] is None
    spot = read({12: 21, 5: 0, 9: 0, 17: 0, 21: 0, 30: 0})["spot"]
    assert spot == {"key": "heavy", "values": {"number": 12, "row": 2, "clean": 5}}


def test_neighbours_among_clean_plants_are_a_patch_and_scattered_ones_are_not() -> None:
    clean = dict.fromkeys(range(1, 41), 0)
    patch = read(clean | {4: 1, 5: 6, 14: 1, 15: 1})["spot"]
    assert patch["key"] == "patch"
    assert patch["values"]["plants"] == [4, 5, 14, 15]
    assert patch["values"]["in_hundred"] <= 5
    assert read(clean | {1: 1, 18: 6, 23: 1, 40: 1})["spot"]["key"] == "by_chance"


def test_walk_with_a_tap_more_is_not_written_by_the_entry_of_the_former_taps() -> None:
    first, second = {"plant": 1, "found": 0}, {"plant": 2, "found": 3}
    walk = {"entry": "of one tap", "taps": [first]}
    told = ask({"walk": walk, "tap": second})
    assert told == {"before": True, "after": False, "taps": [first, second]}
