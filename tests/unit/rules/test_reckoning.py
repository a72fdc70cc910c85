"""The calculator of feeds: published answers, what it still asks for, and the phone's half."""

import json
import shutil
import subprocess
from dataclasses import asdict
from pathlib import Path
from random import Random
from typing import Any

import pytest

from shedbook.crops import load_fertilizers
from shedbook.rules.reckoning import UNITS, Asked, reckon_compost, reckon_feed
from shedbook.words import compose, load_words

TESTS = Path(__file__).parents[2]
DOUBLE_ROWS_M2 = 18 * 0.0254 * 36 * 0.0254
QUESTIONS = 2000


def an_asked(**fields: Any) -> Asked:
    """Ammonium sulfate at 30 lb of nitrogen an acre, in double rows on nine square metres."""
    usual: dict[str, Any] = {
        "n_percent": 21,
        "p_percent": 0,
        "k_percent": 0,
        "unit": "lb_per_acre",
        "amount": 30,
        "ground_m2": DOUBLE_ROWS_M2,
        "area_m2": 9,
        "published": load_fertilizers()["ammonium_sulfate"]["published"],
    }
    return Asked(**usual | fields)


def test_thirty_pounds_an_acre_are_the_grams_for_a_plant_that_are_known() -> None:
    told = dict(reckon_feed(an_asked()))
    assert told["plant"]["product_grams"] == pytest.approx(6.69, abs=0.005)
    assert told["plant"]["nitrogen_grams"] == pytest.approx(1.406, abs=0.001)
    assert told["rate"]["lb_per_1000_ft2"] == pytest.approx(30 / 43.56, rel=1e-12)


def test_a_material_with_two_weights_gives_a_range_and_two_measures() -> None:
    both = load_fertilizers()["ammonium_nitrate"]["published"]
    asked = an_asked(n_percent=34, unit="tablespoons_a_plant", amount=0.25, published=both)
    told = dict(reckon_feed(asked))
    assert told["plant_between"]["low_product_grams"] == pytest.approx(11.5 / 4, abs=0.02)
    assert told["plant_between"]["high_product_grams"] == pytest.approx(12.8 / 4, abs=0.02)
    spoons = [values for key, values in reckon_feed(an_asked(published=both)) if key == "spoons"]
    assert [one["source"] for one in spoons] == ["lsu-small-area", "csu-gardennotes-711"]


def test_six_cups_of_a_balanced_fertilizer_on_a_hundred_square_feet() -> None:
    mixed = load_fertilizers()["mixed"]["published"]
    asked = an_asked(
        n_percent=10,
        p_percent=10,
        k_percent=10,
        unit="cups_in_all",
        amount=6,
        area_m2=9.290304,
        published=mixed,
    )
    told = dict(reckon_feed(asked))
    assert told["rate"]["lb_per_acre"] == pytest.approx(130.68, rel=1e-12)
    assert told["p2o5"] == told["k2o"] == told["rate"]


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"n_percent": 0}, "no_grade"),
        ({"unit": "grams_in_all", "area_m2": None}, "no_area"),
        ({"unit": "grams_a_plant", "ground_m2": None}, "no_ground"),
        ({"unit": "cups_in_all", "published": []}, "no_weight"),
    ],
    ids=str,
)
def test_what_is_missing_is_asked_for(change: dict[str, Any], key: str) -> None:
    assert reckon_feed(an_asked(**change)) == [(key, {})]


def test_five_centimetres_of_compost_on_nine_square_metres() -> None:
    ((key, values),) = reckon_compost(9, 50)
    assert key == "compost"
    assert values["volume_l"] == 450
    assert values["cubic_yards"] == pytest.approx(0.5886, abs=5e-5)


def test_every_line_has_its_words() -> None:
    words = load_words()
    asked = [an_asked(unit=unit, p_percent=4, k_percent=8) for unit in UNITS]
    asked += [an_asked(unit=unit, n_percent=0) for unit in UNITS]
    told = [line for one in asked for line in reckon_feed(one)] + reckon_compost(9, 50)
    assert len(told) > 20
    for key, values in told:
        text = compose(words, f"screen.reckon.{key}", values)
        assert not {"[", "?"} & set(text)


def test_phone_and_terminal_reckon_alike() -> None:
    random = Random(43_560)
    questions: list[dict[str, Any]] = []
    for _ in range(QUESTIONS):
        material = random.choice([*load_fertilizers(), None])
        published = load_fertilizers()[material]["published"] if material else []
        asked = an_asked(
            n_percent=random.choice([0, 10, 21, 46, random.uniform(0, 60)]),
            p_percent=random.choice([0, 4, 20]),
            k_percent=random.choice([0, 8]),
            unit=random.choice(UNITS),
            amount=random.uniform(0, 300),
            ground_m2=random.choice([None, 0.27, random.uniform(0.01, 2)]),
            area_m2=random.choice([None, 9, random.uniform(0.1, 400)]),
            published=published,
        )
        questions.append({"asked": asdict(asked)})
    questions.append({"compost": [9.5, 50]})
    shed = [
        reckon_feed(Asked(**one["asked"])) if "asked" in one else reckon_compost(*one["compost"])
        for one in questions
    ]
    lines = "".join(json.dumps(one) + "\n" for one in questions)
    command = [shutil.which("node") or "node", str(TESTS / "twins" / "reckoning.mjs")]
    ran = subprocess.run(command, input=lines.encode(), capture_output=True, check=False)
    assert ran.returncode == 0, ran.stderr.decode()
    phone = [json.loads(line) for line in ran.stdout.splitlines()]
    assert phone == json.loads(json.dumps(shed))
