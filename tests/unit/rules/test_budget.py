"""A season's nitrogen, from entries as people write them to what is told."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.rules.finding import Finding
from tests.unit.rules.logbook import BED, HERE, PEPPERS, Logbook

AT = "2026-04-05T08:00:00+02:00"
LATER = "2026-06-20T08:00:00+02:00"
ON_BED = {"bed": BED}
HUNDRED_FT2 = {"length_m": 3.048, "width_m": 3.048}
CUP_ML = 236.5882365


def a_log(**bed: float) -> Logbook:
    log = Logbook()
    log.write("bed", "2026-03-01T08:00:00+01:00", bed or HUNDRED_FT2, ON_BED)
    return log


def season(log: Logbook, at: str = LATER) -> Finding:
    (found,) = [
        made for made in log.findings(at, "season_nitrogen") if made["key"].endswith("/season")
    ]
    return found


@pytest.mark.parametrize(("cups", "rate"), [(4, 87.12), (6, 130.68)], ids=str)
def test_cups_of_a_balanced_fertilizer_before_planting_are_told_in_pounds_an_acre(
    cups: int, rate: float
) -> None:
    log = a_log()
    log.write(
        "feed", AT, {"amount_ml": cups * CUP_ML, "n_percent": 10, "material": "mixed"}, ON_BED
    )
    found = season(log)
    assert found["state"] == "noted"
    assert found["message"]["values"]["low_lb_per_acre"] == pytest.approx(rate, rel=1e-9)


def test_compost_beside_that_fertilizer_is_flagged_with_its_depth_and_the_rate() -> None:
    log = a_log()
    log.write("feed", AT, {"origin": "compost", "depth_mm": 75}, ON_BED)
    balanced = {"amount_ml": 6 * CUP_ML, "n_percent": 10, "material": "mixed"}
    log.write("feed", AT, balanced, ON_BED)
    (both,) = [
        made for made in log.findings(LATER, "season_nitrogen") if made["key"].endswith("/both")
    ]
    assert both["state"] == "flagged"
    told = {one["key"]: one["values"] for one in both["reasons"]}
    assert told["budget.compost_depth"]["depth_mm"] == 75
    assert told["budget.given"]["low_lb_per_acre"] == pytest.approx(130.68, rel=1e-9)


def test_two_side_dressings_and_the_first_meal_pass_the_highest_published_rate() -> None:
    log = a_log()
    log.write("planting", AT, {"in_row_m": 0.45, "between_rows_m": 0.6}, {"planting": PEPPERS})
    log.write("feed", AT, {"amount_g": 1800, "n_percent": 10}, ON_BED)
    for day in ("2026-05-08", "2026-06-05"):
        log.write("feed", f"{day}T08:00:00+02:00", {"amount_g": 24, "n_percent": 21}, HERE)
    found = season(log)
    # 193.8 kg/ha on the bed, and twice 24 g x 21 % on six plants of 0.27 m².
    expected = 1800 * 0.1 / 9.290304 * 10 + 2 * (24 * 0.21 / 6 / 0.27 * 10)
    assert found["message"]["values"]["low_kg_per_ha"] == pytest.approx(expected, rel=1e-9)
    assert (found["state"], expected > 252) == ("flagged", True)


def test_an_entry_that_was_taken_back_is_in_no_account() -> None:
    log = a_log()
    log.write("feed", AT, {"amount_g": 1000, "n_percent": 10}, ON_BED, id="first")
    log.write("void", LATER, {"entry": "first"})
    assert log.findings(LATER, "season_nitrogen") == []


amounts = st.fixed_dictionaries(
    {},
    optional={
        "amount_g": st.floats(0.1, 1e6),
        "amount_ml": st.floats(0.1, 1e6),
        "n_percent": st.floats(0, 100),
        "material": st.sampled_from(["urea", "mixed", "ammonium_nitrate", "other"]),
        "area_m2": st.floats(0.01, 1e6),
        "depth_mm": st.floats(0.1, 500),
        "origin": st.sampled_from(["compost", "mineral", "raw_manure"]),
    },
)


def known(log: Logbook) -> float:
    found = [
        made for made in log.findings(LATER, "season_nitrogen") if made["key"].endswith("/season")
    ]
    return found[0]["message"]["values"].get("low_kg_per_ha", 0.0) if found else 0.0


@given(feeds=st.lists(amounts, max_size=5), more=amounts)
@settings(deadline=None, max_examples=60)
def test_another_feed_never_lowers_the_account_and_no_figures_break_it(
    feeds: list[dict[str, Any]], more: dict[str, Any]
) -> None:
    log = a_log()
    for details in feeds:
        log.write("feed", AT, details, ON_BED)
    before = known(log)
    log.write("feed", AT, more, ON_BED)
    assert known(log) >= before
