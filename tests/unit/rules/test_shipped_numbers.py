"""The numbers that ship, each as it was asked for: a slip in a row must not pass as a choice.

All are common practice without a source, but for the spans of a label, which the label gives.
"""

from typing import Any

import pytest

from shedbook.rules.rulebook import load_rulebook

SHIPPED: list[tuple[str, str, Any]] = [
    ("first_feed", "due_after_days", [-7]),
    ("manure_wait", "span_days", 90),
    ("manure_wait", "choose", {"fact": "touches_soil", "span_days": 120}),
    ("manure_wait", "blocks", ["pick"]),
    ("manure_wait", "reach", "soil"),
    ("even_water_first", "span_days", 14),
    ("even_water_first", "blocks", ["feed"]),
    ("season_nitrogen", "before_days", 120),
    ("label_season", "most_field", "most_per_season"),
    ("label_interval", "interval_field", "interval_days"),
    ("other_group", "most_in_row", 1),
    ("rain_after", "after_field", "rain_wait_hours"),
    ("rain_after", "unknown_hours", 24),
    ("helpers_first", "before_hours", 168),
    (
        "mixture_heat",
        "near",
        [{"kind": "air_temperature", "where": [{"field": "high_c", "at_least": 32}]}],
    ),
    ("mixture_drought", "before_hours", 72),
    ("side_dress", "due_after_days", [28, 56]),
    ("scout_weekly", "every_days", 7),
    ("scout_weekly_sown", "every_days", 7),
    ("soap_again", "every_days", 2),
    ("soap_again", "closes_after_days", 1),
    ("soap_again", "lasts_days", 14),
    ("rotation_rest", "years", 3),
    ("rotation_rest", "advised", [{"years": 2, "source": "okstate-pepper", "crops": ["pepper"]}]),
    ("under_film", "weeks", 4),
    ("under_film", "weeks_at_most", 6),
    ("follow_on", "within_days", 400),
    ("keep_apart", "assumed_days", 240),
    ("water_gap", "due_after_hours", 72),
    ("water_gap", "closes_after_hours", 96),
    ("water_gap_container", "due_after_hours", 24),
    ("water_gap_container", "closes_after_hours", 36),
    ("even_water", "window_days", 28),
    ("even_water", "min_gaps", 3),
    ("even_water", "limit_longest_gap_hours", 120),
    ("even_water", "limit_cv", 0.6),
    ("even_water", "morning_before_hour", 10),
    ("soil_water", "start_root_m", 0.2),
    ("soil_water", "account_days", 200),
    ("soil_water", "fill_error_c", 3),
    ("soil_water", "late_after_days", 1),
    ("soil_water", "p_follows_thirst", 1),
    ("soil_water", "full_days", 3),
    ("soil_water", "drained_mm", 30),
    ("container_water", "late_after_days", 0),
    ("container_water", "mix_low_percent", 15),
    ("container_water", "mix_high_percent", 30),
    ("container_water", "crown_factor", 1.5),
    ("catch_cans", "least_low_quarter", 0.7),
    ("catch_cans", "lasts_days", 365),
    ("harvest_wait", "span", {"field": "days_to_harvest", "unit": "day"}),
    ("reentry_wait", "span", {"field": "hours_to_reentry", "unit": "hour"}),
    ("harvest_wait", "blocks", ["pick"]),
    ("reentry_wait", "blocks", "hand_work"),
    ("reentry_wait", "unknown_lasts_days", 90),
    ("sow_seed", "due_after_days", [-63]),
    ("sow_seed", "opens_before_days", 7),
    ("sow_seed", "closes_after_days", 7),
    ("harden_off", "hours", [1, 2, 3, 4, 6, 8, 10]),
    ("harden_off", "air_low_c", 15),
    ("harden_off", "air_high_c", 18),
    ("harden_off", "least_days", 7),
    ("harden_off", "most_days", 14),
    ("sow_soil_warm", "at_least", 15),
    ("sow_soil_warm", "better_at_least", 18),
    ("sown_in_cold_soil", "at_least", 12.7),
    ("sown_in_cold_soil", "better_at_least", 24),
    ("sown_in_cold_soil", "better_at_most", 32),
    ("plant_out_leaves", "at_least", 6),
    ("plant_out_leaves", "better_at_most", 9),
    ("room_in_raised_bed", "at_least", 0.35),
    ("container_width", "at_least", 0.35),
    ("one_in_container", "at_most", 1),
    ("wet_leaves", "blocks", ["pick", "prune", "stake", "weed"]),
    ("wet_leaves", "softly", True),
    ("clean_after_suspect", "due_after_days", [0]),
    ("water_after_feed", "due_after_days", [0]),
    ("weed_weekly", "every_days", 7),
    ("emergence", "late_factor", 1.5),
    ("stand", "late_factor", 1.5),
    ("fruit_set", "low_night_c", 18),
    ("fruit_set", "high_night_c", 24),
    ("fruit_set", "high_day_c", 35),
    ("fruit_set", "strong_low_night_c", 15.56),
    ("fruit_set_tomato", "low_night_c", 12.78),
    ("frost_tonight", "cover_at_c", 2),
    ("tray_air", "night_low_c", 18),
    ("tray_air", "day_high_c", 21),
    ("take_overripe_off", "due_after_days", [2]),
    ("scouting", "window_days", 14),
    ("scouting", "band", 0.5),
    ("scouting", "alpha", 0.1),
    ("scouting", "beta", 0.1),
    ("scouting", "most_looked", 100),
    ("scouting", "fewest_units", 10),
    ("trap_catch", "window_days", 14),
    ("check_neighbours_again", "due_after_days", 3),
    ("look_for_soft_rot", "every_days", 14),
    ("look_for_soft_rot", "closes_after_days", 7),
    ("look_for_soft_rot", "lasts_days", 21),
]


@pytest.mark.parametrize(("rule", "param", "value"), SHIPPED, ids=str)
def test_a_shipped_number_is_the_one_that_was_asked_for(rule: str, param: str, value: Any) -> None:
    params = {one["id"]: one["params"] for one in load_rulebook()["rules"]}
    assert params[rule][param] == value


def test_feeding_advises_the_common_measures() -> None:
    advised = {one["id"]: one.get("advises") for one in load_rulebook()["rules"]}
    assert advised["side_dress"] == {"tablespoons": 0.25, "from_stem_cm": 15}
    assert advised["first_feed"] == {
        "cups_low": 4,
        "cups_high": 6,
        "area_m2": 9,
        "compost_low_mm": 50,
        "compost_high_mm": 100,
    }


def test_hand_work_leaves_out_water_and_what_is_done_with_the_eyes() -> None:
    hand_work = set(load_rulebook()["hand_work"])
    assert {"pick", "prune", "stake", "weed", "feed", "transplant", "remove_plant"} <= hand_work
    assert not {"water", "rain", "note", "decline", "correct", "void"} & hand_work
