"""The phone ranks troubles as the shed does: on thousands of random sets of signs and logs."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections import Counter
from random import Random
from typing import Any

import pytest

from shedbook.rules.rulebook import load_rulebook
from shedbook.rules.troubles import could_be
from shedbook.rules.weather_features import FEATURES, stage_of, weather_features
from tests.unit.rules.twin import TESTS, as_json

SETS = 3000
LOGS = 1000
TODAY = 20_600
# An answer that chance never reached was never compared.
FEWEST_OF_AN_ANSWER = 40
ODD = ("unheard_of", "constructor", "__proto__", "leaf_mosaic ", "")


def ask_phone(questions: list[dict[str, Any]]) -> list[Any]:
    """The answers of tests/twins/troubles.mjs, in order."""
    asked = [{"rulebook": load_rulebook()}, *questions]
    lines = "".join(json.dumps(question) + "\n" for question in asked)
    command = [shutil.which("node") or "node", str(TESTS / "twins" / "troubles.mjs")]
    ran = subprocess.run(command, input=lines.encode(), capture_output=True, check=False)
    assert ran.returncode == 0, ran.stderr.decode()
    return [json.loads(line) for line in ran.stdout.splitlines()][1:]


def a_set(seed: int) -> dict[str, Any]:
    """A crop with signs of one trouble, of several, or of none at all."""
    chance = Random(seed)
    book = load_rulebook()
    every = [sign for signs in book["signs"].values() for sign in signs]
    crop = chance.choice([*sorted(book["crops"]), "pepper", "pepper", "tomato", "own", None, "odd"])
    seen = chance.sample(every, chance.randint(0, 6))
    if chance.random() < 0.6:
        row = book["troubles"][chance.choice(sorted(book["troubles"]))]
        seen += chance.sample(sorted(row["signs"]), min(len(row["signs"]), chance.randint(1, 4)))
    if chance.random() < 0.2:
        seen += [chance.choice(ODD), chance.choice(every)]
    features = {
        name: chance.choice([None, chance.randint(0, 14), chance.uniform(0, 120)])
        for name in FEATURES
    }
    stage = chance.choice([None, "seedling", "young", "fruiting"])
    own = chance.choice(
        [None, {}, {"own": {"family": "solanaceae"}}, "odd", {"own": {"family": 5}}]
    )
    return {
        "crop": crop,
        "own_crops": own,
        "seen": seen,
        "at": {"features": features, "stage": stage},
    }


def a_log(seed: int) -> dict[str, Any]:
    """Events of the kinds that tell of weather, some of them odd."""
    chance = Random(seed)

    def figure() -> Any:
        return chance.choice([chance.randint(-9, 40), chance.uniform(0, 12), None, "7", True])

    makers: dict[str, Any] = {
        "rain": lambda: {"depth_mm": figure()},
        "water": lambda: {"method": chance.choice(["overhead", "drip", None, 5])},
        "leaf_wetness": lambda: {"wet": chance.choice([True, False, "yes"]), "hours": figure()},
        "air_temperature": lambda: {"low_c": figure(), "high_c": figure()},
        "day_weather": lambda: {"humidity_high_percent": chance.choice([50, 95, None])},
        "note": dict,
    }
    kinds = chance.sample(sorted(makers), chance.randint(1, len(makers)))
    events = []
    for _ in range(chance.randint(0, 25)):
        kind = chance.choice(kinds)
        day = TODAY - chance.randint(-2, 30)
        events.append({"kind": kind, "day": day, "details": makers[kind]()})
    bed = chance.choice([None, {}, {"water_method": "overhead"}, {"water_method": "drip"}])
    planting = chance.choice([None, {}, {"from_day": 3}, {"from_day": 3, "first_pick_day": 9}])
    return {"events": events, "bed": bed, "planting": planting, "today": TODAY, "days": 14}


def test_phone_and_shed_rank_random_sets_of_signs_alike(capsys: pytest.CaptureFixture[str]) -> None:
    questions = [a_set(seed) for seed in range(SETS)]
    verdicts: Counter[Any] = Counter()
    ranked: set[str] = set()
    for asked, phone in zip(questions, ask_phone(questions), strict=True):
        shed = could_be(
            load_rulebook(), asked["crop"], asked["own_crops"], asked["seen"], asked["at"]
        )
        assert as_json(shed) == phone, asked
        verdicts[shed["why"] or shed["verdict"]] += 1
        ranked |= {one["trouble"] for one in shed["ranked"]}
    with capsys.disabled():
        print(f"\n{SETS} random sets of signs ranked alike on both sides: {dict(verdicts)}")
    assert ranked == set(load_rulebook()["troubles"])
    assert len(verdicts) == 4
    assert min(verdicts.values()) >= FEWEST_OF_AN_ANSWER


def test_phone_and_shed_read_the_weather_of_random_logs_alike() -> None:
    questions = [a_log(seed) for seed in range(LOGS)]
    known: Counter[str] = Counter()
    for asked, phone in zip(questions, ask_phone(questions), strict=True):
        told = weather_features(asked["events"], asked["bed"], asked["today"], asked["days"])
        assert [as_json(told), stage_of(asked["planting"])] == phone, asked
        known.update(name for name, value in told.items() if value is not None)
    assert set(known) == set(FEATURES)
    assert min(known.values()) >= FEWEST_OF_AN_ANSWER
