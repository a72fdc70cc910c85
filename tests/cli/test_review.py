"""`shedbook review`: the same figures as the API, in words."""

import json

from tests.cli.builders import a_bed, a_planting
from tests.cli.conftest import Run


def test_review_tells_of_each_planting_and_of_no_cause(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    a_planting(a_bed("Long bed"), "pepper", "long mild red", 24)
    told = run("review").stdout
    assert "long mild red" in told
    assert "In its place from" in told
    assert "too few beds" in told


def test_review_in_json_has_the_season_asked_for(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    found = json.loads(run("review", "--season", "2019", "--json").stdout)
    assert found["season"] == 2019
    assert found["plantings"] == []
