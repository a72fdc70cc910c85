"""`shedbook could-be`: the ranking in a terminal, and its word on a sign that it does not know."""

import json
from typing import Any

import pytest

from shedbook.crops.troubles_load import load_signs
from shedbook.rules.rulebook import load_rulebook
from shedbook.rules.troubles import could_be
from tests.cli.builders import a_bed, a_planting
from tests.cli.conftest import Run

SIGNS = ("leaf_webbing", "leaf_stippled", "leaf_bronzed")
ASKED = ("could-be", "--crop", "pepper", *(part for sign in SIGNS for part in ("--sign", sign)))


def test_could_be_prints_the_ranking_that_the_phone_shows(run: Run) -> None:
    answer = json.loads(run(*ASKED, "--json").stdout)
    at: dict[str, Any] = {"features": {}, "stage": None}
    assert answer == json.loads(json.dumps(could_be(load_rulebook(), "pepper", None, SIGNS, at)))
    assert answer["ranked"][0]["trouble"] == "spider_mites"


def test_could_be_in_words_says_what_speaks_for_and_against_and_never_that_it_is_certain(
    run: Run,
) -> None:
    shown = run(*ASKED).stdout
    assert "What could this be? pepper" in shown
    assert "None of them is certain." in shown
    assert "1. Spider mites, weight" in shown
    assert "Speaks for it: Fine webs (3)" in shown
    assert "Speaks against it: " in shown
    assert "Look also for: " in shown
    assert "What to do first:" in shown
    assert "Send a sample to a plant clinic when" in shown


def test_could_be_of_no_sign_or_a_vague_one_says_that_it_is_not_enough(run: Run) -> None:
    assert "Pick what you see." in run("could-be", "--crop", "pepper").stdout
    vague = run("could-be", "--crop", "pepper", "--sign", "leaf_drop").stdout
    assert "Not enough to go by." in vague


def test_could_be_of_two_close_causes_names_what_tells_them_apart(run: Run) -> None:
    shown = run(
        "could-be", "--crop", "pepper", "--sign", "leaf_mosaic", "--sign", "leaf_crinkled"
    ).stdout
    assert "Two causes are too close to tell apart." in shown
    assert "would speak for: Potato virus Y and its kin" in shown


@pytest.mark.parametrize(
    ("sign", "near"),
    [("leaf_webing", "leaf_webbing"), ("yellow_leaf", "leaf_yellow_lower"), ("zzz", "--list")],
)
def test_could_be_refuses_an_unknown_sign_and_names_near_ones(
    run: Run, sign: str, near: str
) -> None:
    refused = run("could-be", "--crop", "pepper", "--sign", sign)
    assert refused.exit_code == 2
    assert f"No sign of this crop is called {sign}." in refused.output
    assert near in refused.output.replace("\n", " ")


def test_could_be_refuses_an_unknown_crop_and_none_at_all(run: Run) -> None:
    refused = run("could-be", "--crop", "peper")
    assert (refused.exit_code, "pepper" in refused.output) == (2, True)
    assert run("could-be", "--sign", "leaf_drop").exit_code == 2


def test_could_be_lists_the_signs_of_a_crop_by_part(run: Run) -> None:
    shown = run("could-be", "--crop", "cabbage", "--list").stdout
    assert "Roots" in shown
    assert "root_clubs" in shown
    assert "fruit_scabs" not in shown
    assert {"root_clubs", "fruit_scabs"} <= {one for some in load_signs().values() for one in some}


def test_could_be_of_a_planting_takes_its_crop_stage_and_weather(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    bed = a_bed("Long bed")
    a_planting(bed, "pepper", "long mild red", 24)
    run("record", "rain", "depth_mm=80")
    asked = ("could-be", "--planting", "long mild red", "--sign", "fruit_white_mould")
    told = json.loads(run(*asked, "--json").stdout)["ranked"][0]
    assert told["trouble"] == "phytophthora_blight"
    assert [moved["feature"] for moved in told["weather"]] == ["rain_mm"]
    assert "80 mm of rain in the last 14 days: that makes it likelier" in run(*asked).stdout
