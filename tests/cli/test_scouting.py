"""`shedbook scouting`: the same figures as the API, in words."""

import json

from tests.cli.builders import a_bed, a_planting, write
from tests.cli.conftest import Run


def _garden(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    bed = a_bed("Long bed")
    planting = a_planting(bed, "sweet_corn", "early", 200)
    subjects = {"bed": bed, "planting": planting}
    found = {"organism": "european_corn_borer", "plants_looked": 50, "plants_affected": 15}
    write("scout", subjects, found)
    write("scout", subjects, {"organism": "lady_beetles", "plants_looked": 50, "count": 9})


def test_scouting_tells_shares_with_their_limits_and_the_decision(run: Run) -> None:
    _garden(run)
    told = run("scouting", "--bed", "Long bed").stdout
    assert "European corn borer: Long bed, early (sweet corn)" in told
    assert "15 of 50, 30%; among all between 19% and 44%. At or above the threshold." in told
    assert "A helper" in told


def test_scouting_of_one_organism_in_json_leaves_the_others_out(run: Run) -> None:
    _garden(run)
    found = json.loads(run("scouting", "--organism", "lady_beetles", "--json").stdout)
    assert [one["organism"] for one in found["looked"]] == ["lady_beetles"]


def test_scouting_before_anything_was_looked_for_says_so(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    assert "Nothing has been looked for yet." in run("scouting").stdout
