"""The ranking of troubles on published descriptions, and the rows that it ranks.

cases_of_troubles.toml: each case was written from another description than its row. The cause must
be among the first three; how often it is the first is printed, with what it was taken for.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from shedbook.crops import load_crops, load_sources
from shedbook.crops.troubles_load import load_signs, load_troubles
from shedbook.rules.rulebook import load_rulebook
from shedbook.rules.troubles import could_be
from shedbook.rules.weather_features import FEATURES
from shedbook.words import load_words

FOUND = tomllib.loads((Path(__file__).parent / "cases_of_troubles.toml").read_text("utf-8"))
CASES: list[dict[str, Any]] = FOUND["cases"]
TROUBLES = load_troubles()
SIGNS = {sign for signs in load_signs().values() for sign in signs}
UNTOLD: dict[str, Any] = {"features": {}, "stage": None}

CASES_EACH = 3
TOP = 3
PEPPER_TROUBLES_AT_LEAST = 24
PEPPER_CASES_AT_LEAST = 72
NUMBERS_OF_A_ROW = range(1, 4)
FEWEST_RIGHT_AT_ONCE = 0.9
# What everybody has in the garden: a leaf that ages, a warm noon, a plant that is small.
VAGUE = (
    "leaf_yellow_lower", "leaf_drop", "plant_stunted", "plant_pale", "wilt_noon", "leaf_edges_dry",
    "leaf_crinkled", "flower_drop", "fruit_drop", "fruit_bumpy", "leaf_curled_up", "wilt_sudden",
    "leaf_spots_dark", "leaf_yellow_patches", "seedlings_missing", "leaf_ragged_holes",
)  # fmt: skip

BY_TROUBLE = pytest.mark.parametrize("trouble", TROUBLES, ids=TROUBLES)


def name_of(case: dict[str, Any]) -> str:
    return f"{case['crop']}-{case['trouble']}-{case['source']}-{CASES.index(case)}"


def order_of(crop: str, signs: list[str]) -> list[str]:
    ranked = could_be(load_rulebook(), crop, None, signs, UNTOLD)["ranked"]
    return [one["trouble"] for one in ranked]


@pytest.mark.parametrize("case", CASES, ids=map(name_of, CASES))
def test_cause_of_a_published_case_is_among_the_first_three(case: dict[str, Any]) -> None:
    assert case["trouble"] in order_of(case["crop"], case["signs"])[:TOP]


@pytest.mark.parametrize("case", CASES, ids=map(name_of, CASES))
def test_case_is_of_another_source_than_its_row_and_of_signs_that_are_known(
    case: dict[str, Any],
) -> None:
    row = TROUBLES[case["trouble"]]
    assert case["source"] in FOUND["sources"] or case["source"] in load_sources()
    assert case["source"] not in (row["source"], *row.get("also", []))
    assert set(case["signs"]) <= SIGNS
    # No case is the row's own list over again.
    assert set(case["signs"]) != set(row["signs"])


def test_confusion_of_the_cases_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    firsts: Counter[str] = Counter()
    counts: Counter[str] = Counter()
    taken: dict[str, Counter[str]] = {}
    for case in CASES:
        trouble, order = case["trouble"], order_of(case["crop"], case["signs"])
        counts[trouble] += 1
        firsts[trouble] += order[0] == trouble
        if order[0] != trouble:
            taken.setdefault(trouble, Counter())[order[0]] += 1
    with capsys.disabled():
        print(f"\n{'trouble':24} {'cases':>5} {'first':>5}  taken for")
        for trouble in sorted(counts):
            others = ", ".join(f"{one} {times}" for one, times in taken.get(trouble, {}).items())
            print(f"{trouble:24} {counts[trouble]:5} {firsts[trouble]:5}  {others}")
        print(f"{'all':24} {counts.total():5} {firsts.total():5}")
    assert firsts.total() >= FEWEST_RIGHT_AT_ONCE * counts.total()


def test_every_trouble_has_three_cases_and_peppers_have_enough() -> None:
    counts = Counter(case["trouble"] for case in CASES)
    assert not {trouble for trouble in TROUBLES if counts[trouble] < CASES_EACH}
    peppers = [case for case in CASES if case["crop"] == "pepper"]
    assert len({case["trouble"] for case in peppers}) >= PEPPER_TROUBLES_AT_LEAST
    assert len(peppers) >= PEPPER_CASES_AT_LEAST


@pytest.mark.parametrize("crop", ["pepper", "tomato", "cucumber", "cabbage", "bean", "lettuce"])
def test_healthy_plant_is_not_enough(crop: str) -> None:
    answer = could_be(load_rulebook(), crop, None, [], UNTOLD)
    assert (answer["verdict"], answer["ranked"]) == ("not_enough", [])


@pytest.mark.parametrize("sign", VAGUE)
def test_single_vague_sign_is_not_enough(sign: str) -> None:
    answer = could_be(load_rulebook(), "pepper", None, [sign], UNTOLD)
    assert (answer["verdict"], answer["why"]) == ("not_enough", "too_little")


def test_signs_shared_by_viruses_alone_are_too_close_to_call() -> None:
    answer = could_be(load_rulebook(), "pepper", None, ["leaf_mosaic", "leaf_crinkled"], UNTOLD)
    assert (answer["verdict"], answer["why"]) == ("not_enough", "too_close")
    assert answer["tell_apart"]


@BY_TROUBLE
def test_row_names_what_there_is(trouble: str) -> None:
    row, crops = TROUBLES[trouble], load_crops()
    assert set(row["signs"]) | set(row["against"]) <= SIGNS
    assert not set(row["signs"]) & set(row["against"])
    assert set(row["signs"].values()) <= set(NUMBERS_OF_A_ROW)
    assert set(row["look_alikes"]) <= set(TROUBLES) - {trouble}
    assert set(row.get("crops", [])) <= set(crops)
    assert set(row.get("families", [])) <= {crop["family"] for crop in crops.values()}
    assert set(row.get("stages", [])) <= {"seedling", "young", "fruiting"}
    assert {condition["feature"] for condition in row.get("weather", [])} <= set(FEATURES)
    assert {row["source"], *row.get("also", [])} <= set(load_sources())


@BY_TROUBLE
def test_row_has_its_words_and_something_to_do(trouble: str) -> None:
    row, words = TROUBLES[trouble], load_words()
    keys = [f"trouble.{trouble}", f"trouble.{trouble}.note", f"sample.{row['sample']}"]
    keys += [f"{part}.{key}" for part in ("hygiene", "spread") for key in row[part]]
    keys += [f"measure.{key}" for key in row["measures"]]
    assert not [key for key in keys if key not in words]
    assert row["measures"]
    assert row["look_alikes"]


def test_every_sign_and_feature_has_its_word_and_every_sign_a_trouble() -> None:
    words = load_words()
    assert not [sign for sign in SIGNS if f"sign.{sign}" not in words]
    assert not [organ for organ in load_signs() if f"organ.{organ}" not in words]
    assert not [name for name in FEATURES if f"could_be.feature.{name}" not in words]
    assert {sign for row in TROUBLES.values() for sign in row["signs"]} == SIGNS
