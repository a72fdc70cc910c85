"""`shedbook record`: what is refused names the field and the remedy; what is right is stored."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.cli.builders import a_bed, a_planting
from tests.cli.conftest import Run, shared_run


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Run]:
    """One folder for all tests here: each looks at what its own command added, or did not."""
    yield from shared_run(tmp_path_factory.mktemp("record"))


@pytest.fixture(scope="module")
def garden(run: Run) -> str:
    """A garden with one bed of peppers; the planting's id."""
    assert run("garden", "new", "Test garden", "--zone", "Europe/Madrid").exit_code == 0
    return a_planting(a_bed("Long bed"), "pepper", "long mild red", 24)


def entries(run: Run) -> list[dict[str, Any]]:
    return [json.loads(line) for line in run("export").stdout.splitlines()]


def test_record_water_stores_one_entry_with_its_subject(run: Run, garden: str) -> None:
    before = len(entries(run))
    done = run("record", "water", "--bed", "long bed", "volume_l=40", "method=drip")
    assert done.exit_code == 0, done.output
    after = entries(run)
    assert len(after) == before + 1
    assert after[-1]["kind"] == "water"
    assert after[-1]["details"] == {"volume_l": 40, "method": "drip"}
    assert after[-1]["number"] == after[-2]["number"] + 1


def test_record_at_a_past_time_keeps_it_in_the_garden_zone(run: Run, garden: str) -> None:
    done = run("record", "rain", "depth_mm=4.5", "--at", "2026-06-01T07:40")
    assert done.exit_code == 0, done.output
    assert entries(run)[-1]["happened_at"] == "2026-06-01T07:40:00+02:00"


def test_record_pick_names_planting_bed_and_plants(run: Run, garden: str) -> None:
    done = run("record", "pick", "--planting", "pepper", "--plants", "1-3,7", "count=9")
    assert done.exit_code == 0, done.output
    subjects = entries(run)[-1]["subjects"]
    assert (subjects["planting"], subjects["plants"]) == (garden, [1, 2, 3, 7])
    assert "bed" in subjects


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["water", "--bed", "Long bed", "volume_l=5000"], 1, "volume_l: More than 2000 L is unus"),
        (["water", "--bed", "Long bed", "volume_l=5000"], 1, "--sure"),
        (["water", "--bed", "Long bed", "volume_l=much"], 1, "volume_l: Must be a number."),
        (["water", "--bed", "Long bed", "volume_l=NaN"], 1, "volume_l"),
        (["water", "--bed", "Long bed", "method=rain"], 1, "method: Must be one of: drip"),
        (["water", "--bed", "Long bed", "volume=5"], 2, "Did you mean volume_l?"),
        (["water", "--bed", "Long bed", "40"], 2, "should be field=value"),
        (["water", "--bed", "Long bed", "volume_l=4", "volume_l=5"], 2, "given twice"),
        (["water", "volume_l=40"], 1, "Choose a bed or a planting."),
        (["water", "--bed", "Wide bed", "volume_l=40"], 2, "The beds are: Long bed."),
        (
            ["pick", "--planting", "kale", "count=3"],
            2,
            "Standing there now: long mild red",
        ),
        (["pick", "--planting", "pepper", "--plants", "30", "count=3"], 2, "the plants 1 to 24"),
        (["pick", "--planting", "pepper", "--plants", "x", "count=3"], 2, "such as 1-8"),
        (["pick", "--planting", "pepper", "--plants", "8-1", "count=3"], 2, "lower to a higher"),
        (["pick", "--plants", "1", "count=3"], 2, "--plants needs --planting"),
        (["pick", "--planting", "pepper"], 1, "how many fruits, or their weight"),
        (["rain", "depth_mm=4", "--at", "2199-01-01T00:00"], 1, "more than a day ahead"),
        (["digging", "depth_mm=4"], 2, "KIND"),
    ],
    ids=lambda part: " ".join(part) if isinstance(part, list) else None,
)
def test_record_of_something_wrong_stores_nothing_and_says_why(
    run: Run, garden: str, words: list[str], code: int, said: str
) -> None:
    before = len(entries(run))
    refused = run("record", *words)
    assert refused.exit_code == code, refused.output
    assert said in refused.output
    assert len(entries(run)) == before


def test_record_of_something_unusual_when_sure_is_stored(run: Run, garden: str) -> None:
    done = run("record", "water", "--bed", "Long bed", "--sure", "volume_l=5000")
    assert done.exit_code == 0, done.output
    assert entries(run)[-1]["details"] == {"volume_l": 5000}


def test_record_without_a_garden_says_how_to_make_one(run: Run, tmp_path: Path) -> None:
    refused = run("record", "rain", "depth_mm=4", "--data", str(tmp_path))
    assert refused.exit_code == 1
    assert "shedbook garden new" in refused.output
