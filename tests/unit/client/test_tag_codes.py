"""Short codes on tags: the same on every phone, one for each thing, and slips are told."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest

from tests.node import ask_node

RUNNER = Path(__file__).parents[2] / "twins" / "tag_codes.mjs"
ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
SEED = 7
BED = "01890a5d-ac96-774b-bcce-b302099a8057"


def ask(**asked: Any) -> dict[str, Any]:
    told: dict[str, Any] = ask_node(RUNNER, asked)
    return told


def some_ids(count: int) -> list[str]:
    chance = random.Random(SEED)
    return [str(UUID(int=chance.getrandbits(128), version=4)) for _ in range(count)]


# Whatever else changes: tags with these hang in gardens.
PRINTED = ["NC4EKR", "NSG4ZS", "FM3WG5"]


def test_a_code_never_changes_once_it_may_be_printed() -> None:
    keys = [BED, f"{BED}/1", f"{BED}/12"]
    told = ask(keys=keys)
    assert told["codes"] == PRINTED
    assert told["spaced"] == [f"{code[:3]} {code[3:]}" for code in PRINTED]


def test_codes_of_a_large_garden_differ_and_only_near_ones_are_longer() -> None:
    plantings = some_ids(40)
    keys = plantings + [f"{one}/{plant}" for one in plantings for plant in range(1, 401)]
    codes = ask(keys=keys)["codes"]
    assert len(set(codes)) == len(keys) == 16_040
    assert set("".join(codes)) == set(ALPHABET)
    longer = [code for code in codes if len(code) > 6]
    assert all(len(code) >= 6 for code in codes)
    # 16,040 things in 31^5 places: nine in ten thousand share their first five characters.
    assert len(longer) < 60


def test_a_code_is_found_again_among_all_others() -> None:
    keys = some_ids(3000)
    bodies = [code[:-1] for code in ask(keys=keys)["codes"]]
    assert ask(keys=keys, bodies=bodies)["found"] == [[key] for key in keys]


def test_a_code_that_came_to_mean_several_things_finds_each_of_them() -> None:
    keys = some_ids(3000)
    codes = ask(keys=keys)["codes"]
    # The first character alone stands for what a short code of an old tag would.
    alike = [key for key, code in zip(keys, codes, strict=True) if code[0] == codes[0][0]]
    assert 50 < len(alike) < 150
    assert ask(keys=keys, bodies=[codes[0][0]])["found"] == [alike]


def test_every_wrong_character_and_every_two_in_wrong_order_are_told() -> None:
    (code,) = ask(keys=[BED])["codes"]
    wrong = [
        code[:at] + other + code[at + 1 :]
        for at in range(len(code))
        for other in ALPHABET
        if other != code[at]
    ]
    changed = [
        code[:at] + code[at + 1] + code[at] + code[at + 2 :]
        for at in range(len(code) - 1)
        if code[at] != code[at + 1]
    ]
    assert len(wrong) == 180
    assert changed
    told = ask(texts=wrong + changed)["read"]
    assert [one for one in told if one != {"wrong": "check"}] == []


@pytest.mark.parametrize(
    "change", [str.lower, str.upper, " ".join, "-".join, lambda code: f" {code}. "]
)
def test_a_code_is_read_in_either_case_and_with_spaces(change: Any) -> None:
    (code,) = ask(keys=[BED])["codes"]
    assert ask(texts=[change(code)])["read"] == [{"body": code[:-1]}]


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("", "length"),
        ("ABC", "length"),
        ("A" * 40, "length"),
        ("ABCDE0", "letter"),
        ("ÄBCDEF", "letter"),
    ],
)
def test_what_is_no_code_is_told_by_what_is_wrong(text: str, wrong: str) -> None:
    assert ask(texts=[text])["read"] == [{"wrong": wrong}]
