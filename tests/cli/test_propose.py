"""`shedbook propose`: the same answer as the API, in words, and what may follow in one bed."""

import json

from tests.cli.builders import a_bed, write
from tests.cli.conftest import Run


def _garden(run: Run) -> str:
    run("garden", "new", "Test garden", "--zone", "UTC")
    bed = a_bed("Long bed", length_m=4, width_m=1.25)
    write("spot", {"bed": bed}, {"trouble": "phytophthora_blight"})
    return bed


def test_propose_names_the_bed_of_each_wish_and_each_unmet_wish(run: Run) -> None:
    _garden(run)
    for crop in ("cabbage", "pumpkin"):
        write("wish", {}, {"crop": crop, "season": 2040, "area_m2": 4})
    shown = run("propose", "--season", "2040").stdout
    assert "Proposal for 2040" in shown
    placed, unmet = shown.split("Without a bed")
    assert "Long bed" in placed
    assert "cabbage" in placed
    assert "pumpkin" in unmet
    assert "others stand with less against them: cabbage" in unmet
    assert "no other placing weighs less" in unmet


def test_propose_without_wishes_says_so(run: Run) -> None:
    _garden(run)
    assert "Nothing is wished for" in run("propose", "--season", "2040").stdout


def test_propose_in_json_is_json_alone(run: Run) -> None:
    bed = _garden(run)
    found = json.loads(run("propose", "--season", "2040", "--json").stdout)
    assert [one["bed"] for one in found["beds"]] == [bed]


def test_propose_for_a_bed_ranks_what_may_follow(run: Run) -> None:
    _garden(run)
    shown = run("propose", "--bed", "long bed").stdout
    assert shown.index("cabbage:") < shown.index("pumpkin:")
    assert "Rest after a trouble of the soil" in shown
    found = json.loads(run("propose", "--bed", "long bed", "--json").stdout)
    assert len(found["followers"]) >= 30


def test_propose_for_an_unknown_bed_is_refused(run: Run) -> None:
    _garden(run)
    refused = run("propose", "--bed", "moon")
    assert refused.exit_code == 2
    assert "No bed is called moon" in refused.output
