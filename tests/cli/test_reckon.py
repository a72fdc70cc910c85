"""`shedbook reckon`: no garden is needed for arithmetic."""

import pytest

from tests.cli.conftest import Run

ROWS = ("--in-row", "45.72", "--between-rows", "91.44")


def test_reckon_feed_tells_a_rate_in_grams_for_each_plant_and_for_the_bed(run: Run) -> None:
    told = run("reckon", "feed", "30", "lb_per_acre", "--grade", "21-0-0", *ROWS, "--plants", "12")
    assert "33.6 kg of nitrogen a hectare, that is 30 lb an acre" in told.stdout
    assert "For each plant: 6.69 g of product, with 1.41 g of nitrogen." in told.stdout
    assert "For 5.02 m²: 80.33 g of product" in told.stdout


def test_reckon_feed_shows_both_weights_of_ammonium_nitrate(run: Run) -> None:
    asked = ("0.25", "tablespoons_a_plant", "--grade", "34-0-0", "--material", "ammonium_nitrate")
    told = run("reckon", "feed", *asked, *ROWS)
    assert "For each plant: 2.88 to 3.19 g of product" in told.stdout
    assert "two sources weigh this product differently" in told.stdout


def test_reckon_compost_tells_litres(run: Run) -> None:
    told = run("reckon", "compost", "--area", "9", "--depth", "50")
    assert told.stdout.startswith("450 L of compost lie 50 mm deep on 9 m²")


@pytest.mark.parametrize(
    ("asked", "hint"),
    [
        (("1", "cups_in_all", "--grade", "10-10-10", "--area", "9"), "--material"),
        (("1", "grams_in_all", "--grade", "10-10-10"), "--area"),
        (("1", "grams_a_plant", "--grade", "10-10-10"), "--in-row"),
        (("1", "lb_per_acre", "--grade", "ten"), "as on the bag"),
        (("1", "lb_per_acre", "--grade", "0-10-10"), "above 0"),
    ],
)
def test_reckon_feed_asks_for_what_it_needs(run: Run, asked: tuple[str, ...], hint: str) -> None:
    refused = run("reckon", "feed", *asked)
    assert refused.exit_code == 2
    assert hint in refused.output


def test_reckon_feed_with_impossible_figures_is_refused(run: Run) -> None:
    asked = ("1", "lb_per_acre", "--grade", "10-10-10", "--in-row", "-4", "--between-rows", "60")
    refused = run("reckon", "feed", *asked)
    assert refused.exit_code == 1
    assert "in_row_m" in refused.output
