"""What could this be: how signs are weighed, when they are too few, and what weather moves."""

from __future__ import annotations

from typing import Any

import pytest

from shedbook.rules.troubles import could_be, tell_apart, troubles_of
from shedbook.rules.weather_features import FEATURES, stage_of, weather_features

NUMBERS = {
    "against_points": 1.0,
    "not_shown": 1.0,
    "stage_factor": 0.5,
    "least_points": 1.05,
    "least_points_alone": 2.0,
    "close_share": 0.85,
    "missing_count": 2,
}
TODAY = 20_600
UNTOLD: dict[str, Any] = {"features": {}, "stage": None}


def a_row(signs: dict[str, int], **given: Any) -> dict[str, Any]:
    return {"signs": signs, "against": [], **given}


def a_book(**rows: dict[str, Any]) -> dict[str, Any]:
    crops = {"pepper": {"family": "solanaceae"}, "kale": {"family": "brassicaceae"}}
    return {"ranking": NUMBERS, "crops": crops, "troubles": rows}


def an_event(kind: str, days_ago: int, **details: Any) -> dict[str, Any]:
    return {"kind": kind, "day": TODAY - days_ago, "details": details}


def features_of(*events: dict[str, Any], bed: dict[str, Any] | None = None) -> dict[str, Any]:
    return weather_features(events, bed, TODAY, 14)


def test_sign_counts_by_its_share_of_all_the_strength_that_shows_it() -> None:
    book = a_book(rust=a_row({"dust": 3, "fall": 1}), mould=a_row({"fall": 3}))
    answer = could_be(book, "pepper", None, ["dust", "fall"], UNTOLD)
    first, second = answer["ranked"]
    assert first["for"] == [{"sign": "dust", "weight": 3.0}, {"sign": "fall", "weight": 0.25}]
    assert first["points"] == 3.25
    assert second["for"] == [{"sign": "fall", "weight": 2.25}]
    # What it does not show takes off 1 by all the strength of that sign.
    assert second["against"] == [{"sign": "dust", "weight": 0.333}]
    assert second["points"] == pytest.approx(1.917)
    assert first["score"] + second["score"] == pytest.approx(1, abs=0.001)


def test_sign_named_as_speaking_against_takes_off_a_whole_point() -> None:
    book = a_book(rust=a_row({"dust": 3}, against=["web"]), mites=a_row({"web": 3}))
    rust = could_be(book, "pepper", None, ["dust", "web"], UNTOLD)["ranked"][-1]
    assert rust["against"] == [{"sign": "web", "weight": 1.0}]
    assert rust["points"] == 2.0


def test_trouble_with_nothing_for_it_is_not_listed() -> None:
    book = a_book(rust=a_row({"dust": 3}), mould=a_row({"fall": 3}))
    assert [
        one["trouble"] for one in could_be(book, "pepper", None, ["dust"], UNTOLD)["ranked"]
    ] == ["rust"]


def test_missing_are_the_most_telling_signs_not_picked_yet() -> None:
    book = a_book(rust=a_row({"dust": 3, "fall": 1, "halo": 2, "curl": 2}))
    assert could_be(book, "pepper", None, ["dust"], UNTOLD)["ranked"][0]["missing"] == [
        "curl",
        "halo",
    ]


@pytest.mark.parametrize(
    ("signs", "why"),
    [
        ([], "no_signs"),
        (["unheard_of"], "no_signs"),
        (["fall"], "too_little"),
        (["pale"], "too_little"),
    ],
)
def test_too_few_signs_are_not_enough(signs: list[str], why: str) -> None:
    book = a_book(
        rust=a_row({"fall": 1, "dust": 3, "pale": 2}),
        mould=a_row({"fall": 1, "pale": 1}),
        wilt=a_row({"fall": 1, "pale": 1}),
    )
    answer = could_be(book, "pepper", None, signs, UNTOLD)
    assert (answer["verdict"], answer["why"]) == ("not_enough", why)


def test_two_close_causes_are_not_enough_and_say_what_tells_them_apart() -> None:
    book = a_book(
        one=a_row({"mosaic": 3, "puckered": 2, "bands": 3}),
        two=a_row({"mosaic": 3, "puckered": 2, "lines": 2}),
    )
    answer = could_be(book, "pepper", None, ["mosaic", "puckered"], UNTOLD)
    assert (answer["verdict"], answer["why"]) == ("not_enough", "too_close")
    assert answer["tell_apart"] == [
        {"sign": "bands", "speaks_for": 0},
        {"sign": "lines", "speaks_for": 1},
    ]
    told = could_be(book, "pepper", None, ["mosaic", "puckered", "bands"], UNTOLD)
    assert (told["verdict"], told["why"], told["tell_apart"]) == ("ranked", None, [])


def test_tell_apart_leaves_out_what_was_picked() -> None:
    one, other = a_row({"bands": 3, "small": 1}), a_row({"lines": 2})
    assert tell_apart(one, other, {"bands": 3, "small": 1, "lines": 2}, ["bands"]) == [
        {"sign": "small", "speaks_for": 0},
        {"sign": "lines", "speaks_for": 1},
    ]


def test_logged_weather_moves_the_points_and_is_told() -> None:
    wet = {"feature": "wet_leaf_days", "at_least": 4, "factor": 1.5}
    book = a_book(rust=a_row({"dust": 2}, prior=2, weather=[wet]))
    dry = could_be(book, "pepper", None, ["dust"], UNTOLD)["ranked"][0]
    at = {"features": {"wet_leaf_days": 4}, "stage": None}
    moved = could_be(book, "pepper", None, ["dust"], at)["ranked"][0]
    assert (dry["points"], dry["weather"]) == (4.0, [])
    assert moved["points"] == 6.0
    assert moved["weather"] == [wet | {"value": 4}]


def test_weather_that_was_not_logged_moves_nothing() -> None:
    wet = {"feature": "wet_leaf_days", "at_least": 0, "factor": 1.5}
    book = a_book(rust=a_row({"dust": 2}, weather=[wet]))
    at = {"features": {"wet_leaf_days": None}, "stage": None}
    assert could_be(book, "pepper", None, ["dust"], at)["ranked"][0]["points"] == 2.0


def test_other_stage_halves_the_points() -> None:
    book = a_book(damping=a_row({"fall": 3}, stages=["seedling"]))
    at = {"features": {}, "stage": "fruiting"}
    one = could_be(book, "pepper", None, ["fall"], at)["ranked"][0]
    assert (one["points"], one["other_stage"]) == (1.5, True)


@pytest.mark.parametrize(
    ("crop", "own", "found"),
    [
        ("pepper", None, ["any", "night"]),
        ("kale", None, ["any", "cabbage"]),
        ("my_own", {"my_own": {"family": "solanaceae"}}, ["any", "night"]),
        ("pepper", {"pepper": {"family": "brassicaceae"}}, ["any", "cabbage"]),
        ("unheard_of", None, ["any"]),
        (None, None, ["any"]),
        ("constructor", "odd", ["any"]),
    ],
)
def test_troubles_of_a_crop_are_its_own_its_familys_and_those_of_any(
    crop: str | None, own: Any, found: list[str]
) -> None:
    book = a_book(
        any=a_row({"a": 1}),
        night=a_row({"b": 1}, families=["solanaceae"]),
        cabbage=a_row({"c": 1}, crops=["turnip"], families=["brassicaceae"]),
    )
    assert sorted(troubles_of(book, crop, own)) == found


def test_weather_of_an_empty_log_is_not_known() -> None:
    assert features_of() == dict.fromkeys(FEATURES)


def test_days_of_wet_leaves_are_counted_once_whatever_wet_them() -> None:
    told = features_of(
        an_event("rain", 3, depth_mm=5),
        an_event("leaf_wetness", 3, wet=True),
        an_event("leaf_wetness", 4, hours=7),
        an_event("leaf_wetness", 5, hours=2),
        an_event("water", 6, method="overhead"),
        an_event("rain", 8, depth_mm=0.5),
        an_event("rain", 14, depth_mm=9),
    )
    assert (told["wet_leaf_days"], told["rain_mm"]) == (3, 5.5)


def test_rain_gauge_that_is_kept_says_zero_for_dry_weeks() -> None:
    assert features_of(an_event("rain", 20, depth_mm=4))["rain_mm"] == 0
    assert features_of(an_event("rain", 30, depth_mm=4))["rain_mm"] is None


def test_dry_gap_counts_rain_and_begins_with_the_first_watering() -> None:
    first = an_event("water", 6, volume_l=20)
    assert features_of(first)["dry_gap_days"] == 6
    assert features_of(first, an_event("rain", 2, depth_mm=8))["dry_gap_days"] == 3
    assert features_of(an_event("water", 40, volume_l=20))["dry_gap_days"] == 14
    assert features_of(an_event("rain", 2, depth_mm=8))["dry_gap_days"] is None


def test_overhead_water_follows_the_bed_where_the_entry_says_nothing() -> None:
    water = an_event("water", 1, volume_l=5)
    assert features_of(water, bed={"water_method": "overhead"})["overhead_waterings"] == 1
    assert features_of(water, bed={"water_method": "drip"})["overhead_waterings"] == 0


def test_readings_of_one_day_are_joined_before_days_and_nights_are_counted() -> None:
    told = features_of(
        an_event("air_temperature", 1, low_c=16, high_c=31),
        an_event("air_temperature", 1, low_c=7, high_c=33),
        an_event("air_temperature", 2, low_c=22),
        an_event("day_weather", 2, humidity_high_percent=95),
    )
    assert {name: told[name] for name in FEATURES[4:]} == {
        "warm_days": 1,
        "hot_days": 1,
        "hot_nights": 1,
        "cool_nights": 1,
        "cold_nights": 1,
        "humid_days": 1,
    }


def test_events_of_the_future_count_for_nothing() -> None:
    assert features_of(an_event("rain", -1, depth_mm=5))["rain_mm"] is None


@pytest.mark.parametrize(
    ("planting", "stage"),
    [
        (None, None),
        ({}, "seedling"),
        ({"from_day": 5}, None),
        ({"from_day": 5, "first_pick_day": 60}, "fruiting"),
    ],
)
def test_stage_is_told_only_where_the_log_shows_it(
    planting: dict[str, Any] | None, stage: str | None
) -> None:
    assert stage_of(planting) == stage
