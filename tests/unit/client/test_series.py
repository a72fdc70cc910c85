"""What charts draw, against numbers worked out by hand; what is not known is null, never zero."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from shedbook.log.moment import DAY_SECONDS, moment_text
from shedbook.rules.rulebook import load_rulebook
from tests.builders import BED, OFFSET_MINUTES, PLANTING, START, a_bed, a_planting, an_entry, an_id
from tests.node import ask_node

RUNNER = Path(__file__).parents[2] / "twins" / "series.mjs"
# 2026-06-01.
FIRST_DAY = START // DAY_SECONDS


def ask(request: dict[str, Any]) -> dict[str, Any]:
    told: dict[str, Any] = ask_node(RUNNER, request)
    return told


class Garden:
    """One bed with peppers that went in on the first day, and what is written of them."""

    def __init__(self, **planting: Any) -> None:
        self.entries = [a_bed(), a_planting(**planting)]
        self.write("transplant", 0)

    def write(self, kind: str, day: float, subjects: Any = None, **details: Any) -> None:
        """An entry so many days after the first morning."""
        given = {"subjects": subjects} if subjects is not None else {}
        happened = moment_text(START + round(day * DAY_SECONDS), OFFSET_MINUTES)
        written = {"details": details} if details else {}
        number = 200 + len(self.entries)
        made = an_entry(kind, id=an_id(number), happened_at=happened, **given, **written)
        self.entries.append(made)

    def told(self, day: int, first_day: int = 0) -> dict[str, Any]:
        """Its series as they stand on a day."""
        return ask(
            {
                "entries": self.entries,
                "rulebook": load_rulebook(),
                "day": FIRST_DAY + day,
                "now": START + day * DAY_SECONDS,
                "bed": BED,
                "planting": PLANTING,
                "first_day": FIRST_DAY + first_day,
            }
        )


def test_picks_add_up_and_a_pick_that_was_not_weighed_adds_no_mass() -> None:
    garden = Garden()
    garden.write("pick", 40, mass_g=1200, count=10)
    garden.write("pick", 40.2, mass_g=300, count=3)
    garden.write("pick", 47, count=8)
    garden.write("pick", 54, mass_g=500)
    told = garden.told(60)
    days = [
        (one["day"] - FIRST_DAY, one["picked"], one["total"], one["left_out"])
        for one in told["mass"]["days"]
    ]
    assert days == [(40, 1500, 1500, 0), (47, None, 1500, 1), (54, 500, 2000, 0)]
    assert (told["mass"]["total"], told["mass"]["picks"], told["mass"]["left_out"]) == (2000, 4, 1)
    counts = [(one["picked"], one["total"]) for one in told["count"]["days"]]
    assert counts == [(13, 13), (8, 21), (None, 21)]


def test_nothing_picked_has_no_total_rather_than_none_at_all() -> None:
    told = Garden().told(30)
    assert told["mass"] == {
        "measure": "mass_g",
        "days": [],
        "total": None,
        "picks": 0,
        "left_out": 0,
    }


def test_picks_for_a_square_metre_rest_on_the_plants_and_their_spacing() -> None:
    garden = Garden(in_row_m=0.5, between_rows_m=0.75)
    garden.write("pick", 40, mass_g=900)
    told = garden.told(41)
    # 12 plants on 0.5 m by 0.75 m: 4.5 m².
    assert told["area"] == pytest.approx(4.5)
    assert told["per_area"]["total"] == pytest.approx(200)
    assert told["per_area"]["days"][0]["picked"] == pytest.approx(200)


@pytest.mark.parametrize("spacing", [{}, {"in_row_m": 0.5}], ids=["none", "half"])
def test_without_the_spacing_no_area_is_assumed(spacing: dict[str, float]) -> None:
    assert Garden(**spacing).told(1)["area"] is None


def test_gaps_run_from_watering_to_watering_and_the_last_one_runs_on() -> None:
    garden = Garden()
    for day in (1, 3, 3.5, 8):
        garden.write("water", day, {"bed": BED}, volume_l=20)
    told = garden.told(10)
    assert told["gaps"] == [[48, False], [12, False], [108, False], [48, True]]
    assert told["longest"] == 108


def test_losses_are_kept_by_cause_and_day_and_what_was_not_counted_stays_unknown() -> None:
    garden = Garden()
    garden.write("discard", 5, count=9, cause="cracked")
    garden.write("discard", 20, count=2, cause="blossom_end_rot")
    garden.write("discard", 20.1, count=3, cause="blossom_end_rot")
    garden.write("discard", 22, mass_g=400, cause="sunscald")
    # The planting alone is named, as a phone may have written it.
    garden.write("discard", 24, {"planting": PLANTING}, count=4, cause="blossom_end_rot")
    told = garden.told(30, first_day=10)["losses"]
    found = [
        (
            loss["cause"],
            loss["count"],
            [(one["day"] - FIRST_DAY, one["count"]) for one in loss["days"]],
        )
        for loss in told
    ]
    assert found == [
        ("blossom_end_rot", 9, [(20, 5), (24, 4)]),
        ("sunscald", None, [(22, None)]),
    ]
    assert told[1]["days"][0]["mass_g"] == 400


def test_air_is_held_against_the_limits_of_the_row_once_flowers_are_open() -> None:
    rule = next(one for one in load_rulebook()["rules"] if one["id"] == "fruit_set")["params"]
    garden = Garden()
    warm, cold = (rule["low_night_c"] + 1, 30), (rule["low_night_c"] - 1, 30)
    hot = (rule["low_night_c"] + 1, rule["high_day_c"] + 1)
    # A cold day before bloom, which is thought to begin 30 days after planting out; a cold and a
    # hot one in it; then ten days without a reading, which is too long to be drawn.
    readings = {28: cold, 29: warm, 30: cold, 31: warm, 32: hot, 43: warm}
    for day, (low, high) in readings.items():
        garden.write("air_temperature", day, {}, low_c=low, high_c=high)
    air = garden.told(45)["air"]
    assert air["limits"] == {
        "lowNight": rule["low_night_c"],
        "highNight": rule["high_night_c"],
        "highDay": rule["high_day_c"],
    }
    assert air["bloom_day"] - FIRST_DAY == rule["bloom_after_days"] == 30
    by_day = {one["day"] - FIRST_DAY: one for one in air["days"]}
    assert [day for day, one in by_day.items() if one["isPast"]] == [30, 32]
    assert (air["past"], air["known"]) == (2, 4)
    assert by_day[36] == {
        "day": FIRST_DAY + 36,
        "low_c": None,
        "high_c": None,
        "how": "missing",
        "isPast": False,
    }


def test_a_short_gap_of_the_thermometer_is_drawn_between_its_neighbours_and_marked() -> None:
    garden = Garden()
    garden.write("air_temperature", 2, {}, low_c=18, high_c=26)
    garden.write("air_temperature", 4, {}, low_c=20, high_c=30)
    day = next(one for one in garden.told(6)["air"]["days"] if one["day"] == FIRST_DAY + 3)
    assert (day["low_c"], day["high_c"], day["how"]) == (19, 28, "filled")


def test_a_crop_without_a_range_of_fruit_set_has_no_picture_of_the_air() -> None:
    garden = Garden(crop="lettuce")
    garden.write("air_temperature", 2, {}, low_c=18, high_c=26)
    assert garden.told(6)["air"] is None


def test_rounds_of_looking_have_their_share_with_its_interval_and_gaps_where_not_counted() -> None:
    garden = Garden(plants=40)
    garden.write("scout", 10, organism="flea_beetle", plants_looked=20, plants_affected=5)
    garden.write("scout", 17, organism="flea_beetle", grade="few")
    garden.write("scout", 24, organism="flea_beetle", plants_looked=20, plants_affected=0)
    (looked,) = garden.told(30)["looked"]
    first, second, third = looked["rounds"]
    assert (looked["organism"], looked["measure"]) == ("flea_beetle", "share")
    assert (first["day"] - FIRST_DAY, first["value"]) == (10, 0.25)
    # By hand, with z² = 3.8415: the middle (0.25 + 3.8415/40) / (1 + 3.8415/20) is 0.29028, and
    # the half width 1.96 · √(0.25 · 0.75/20 + 3.8415/1600) / (1 + 3.8415/20) is 0.17842.
    assert first["low"] == pytest.approx(0.1119, abs=5e-4)
    assert first["high"] == pytest.approx(0.4687, abs=5e-4)
    assert (second["value"], second["low"], second["looked"]) == (None, None, None)
    assert (third["value"], third["low"]) == (0, 0)
    # With none in 20 the upper end is z² over 20 and z² together.
    assert third["high"] == pytest.approx(0.1611, abs=5e-4)


def test_the_limit_to_act_from_is_the_one_that_the_garden_set() -> None:
    garden = Garden(plants=40)
    garden.write("setting", 1, {}, thresholds={"scout_threshold.hornworm": 0.1})
    garden.write("scout", 10, organism="hornworm", plants_looked=20, plants_affected=5)
    (looked,) = garden.told(30)["looked"]
    assert looked["limit"] == 0.1


def test_what_was_looked_for_in_the_bed_before_the_planting_is_not_of_it() -> None:
    garden = Garden()
    garden.write("scout", -30, {"bed": BED}, organism="aphids", plants_looked=9, plants_affected=2)
    assert garden.told(3)["looked"] == []


def test_rotation_tells_the_newest_year_first_and_what_is_only_planned() -> None:
    garden = Garden()
    for number, details in (
        (31, {"crop": "onion", "planned_on": "2027-04-02"}),
        (32, {"crop": "bean", "ended_on": "2024-09-01"}),
    ):
        garden.entries.append(a_planting(id=an_id(number), **details))
    garden.write("transplant", -760, {"bed": BED, "planting": an_id(32)})
    told = garden.told(10)
    assert told["years"] == [2027, 2026, 2025, 2024]
    stands = sorted(told["stands"], key=lambda one: one[1])
    assert stands == [
        [an_id(32), 2024, 2024, False],
        [PLANTING, 2026, 2026, False],
        [an_id(31), 2027, 2027, True],
    ]
    assert told["this_year"] == [PLANTING]


def test_axis_names_round_values_and_ends_at_one() -> None:
    asked = [[0, 33.5, 0], [0, 2.98, 0], [13, 37, 0], [0, 3, 1], [0, 0.62, 0], [0, 1, 1]]
    assert ask({"ticks": asked})["ticks"] == [
        [0, 10, 20, 30, 40],
        [0, 1, 2, 3],
        [20, 30, 40],
        [0, 1, 2, 3],
        [0, 0.2, 0.4, 0.6, 0.8],
        [0, 1],
    ]


def test_values_lie_between_their_places_and_a_span_of_nothing_breaks_nothing() -> None:
    asked = [[0, 10, 100, 0, 2.5], [10, 20, 40, 360, 15], [7, 7, 40, 360, 7]]
    assert ask({"places": asked})["places"] == [75, 200, 40]
