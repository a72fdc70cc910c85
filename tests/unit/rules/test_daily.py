"""The weather of a subject day by day: what joins, what is filled, what stays missing."""

from typing import Any

from shedbook.rules.daily import Day, daily_air, daily_rain
from shedbook.rules.match import Context, context_of

DAY_S = 86_400
FIRST = 20_600


def event(kind: str, day: int, hour: int = 12, **more: Any) -> dict[str, Any]:
    places = {place: more.pop(place) for place in ("bed", "planting") if place in more}
    instant = day * DAY_S + hour * 3600
    return places | {
        "id": f"{kind}-{day}-{hour}-{sorted(places.values())}",
        "kind": kind,
        "day": day,
        "hour": hour,
        "minute": 0,
        "instant": instant,
        "order": "0",
        "details": more,
    }


def air(day: int, low: float | None, high: float | None, **more: Any) -> dict[str, Any]:
    read = {"low_c": low, "high_c": high}
    given = {name: value for name, value in read.items() if value is not None}
    return event("air_temperature", day, **given, **more)


def seen(*events: dict[str, Any]) -> Context:
    view = {"kind": "bed", "subject": {"bed": "b1"}, "events": list(events)}
    return context_of(view, {}, FIRST + 40, (FIRST + 40) * DAY_S)


def days(context: Context, count: int, planting: dict[str, Any] | None = None) -> list[Day]:
    return daily_air(context, planting, FIRST, FIRST + count - 1)


def test_readings_of_one_day_are_joined_to_the_lowest_low_and_the_highest_high() -> None:
    context = seen(
        air(FIRST, 12, 20, hour=7), air(FIRST, 10, 26, hour=19), air(FIRST, None, 27, hour=20)
    )
    assert days(context, 1) == [(FIRST, 10, 27, "measured")]


def test_gap_of_five_days_is_drawn_between_its_neighbours() -> None:
    found = days(seen(air(FIRST, 10, 20), air(FIRST + 6, 16, 32)), 7)
    assert [day.low_c for day in found] == [10, 11, 12, 13, 14, 15, 16]
    assert [day.high_c for day in found] == [20, 22, 24, 26, 28, 30, 32]
    assert [day.how for day in found] == ["measured", *["filled"] * 5, "measured"]


def test_gap_of_six_days_is_missing() -> None:
    found = days(seen(air(FIRST, 10, 20), air(FIRST + 7, 16, 32)), 8)
    assert [day.how for day in found] == ["measured", *["missing"] * 6, "measured"]
    assert found[3] == (FIRST + 3, None, None, "missing")


def test_gap_is_filled_from_readings_outside_the_span() -> None:
    context = seen(air(FIRST - 1, 10, 20), air(FIRST + 3, 14, 28))
    assert days(context, 2) == [(FIRST, 11, 22, "filled"), (FIRST + 1, 12, 24, "filled")]


def test_last_reading_is_held_for_five_days_and_no_longer() -> None:
    context = seen(air(FIRST, 10, 20))
    assert [day.how for day in days(context, 6)] == ["measured", *["filled"] * 5]
    assert days(context, 6)[5].low_c == 10
    assert [day.how for day in days(context, 7)] == ["measured", *["missing"] * 6]


def test_day_with_a_low_alone_gets_its_high_from_its_neighbours() -> None:
    context = seen(air(FIRST, 10, 20), air(FIRST + 1, 9, None), air(FIRST + 2, 10, 24))
    assert days(context, 3)[1] == (FIRST + 1, 9, 22, "filled")


def test_what_was_read_stands_against_what_was_filled() -> None:
    context = seen(air(FIRST, 15, 20), air(FIRST + 1, None, 12), air(FIRST + 2, 15, 20))
    assert days(context, 3)[1] == (FIRST + 1, 12, 12, "filled")
    context = seen(air(FIRST, 5, 10), air(FIRST + 1, 14, None), air(FIRST + 2, 5, 10))
    assert days(context, 3)[1] == (FIRST + 1, 14, 14, "filled")


def test_readings_that_contradict_each_other_or_the_earth_tell_nothing() -> None:
    context = seen(air(FIRST, 25, None), air(FIRST, None, 20, hour=13), air(FIRST + 1, -61, 20))
    assert [day.how for day in days(context, 2)] == ["missing", "missing"]


def test_nearest_thermometer_of_the_day_counts() -> None:
    planting = {"id": "p1", "bed": "b1"}
    context = seen(
        air(FIRST, 10, 20),
        air(FIRST, 18, 24, bed="b1"),
        air(FIRST, 20, 25, planting="p1"),
        air(FIRST, 1, 2, planting="p2"),
        air(FIRST, 3, 4, bed="b2"),
    )
    assert days(context, 1) == [(FIRST, 18, 24, "measured")]
    assert days(context, 1, planting) == [(FIRST, 20, 25, "measured")]


def test_nothing_read_leaves_every_day_missing() -> None:
    assert [day.how for day in days(seen(), 2)] == ["missing", "missing"]
    assert days(seen(), 0) == []


def test_rain_of_a_day_adds_up_and_days_near_a_reading_were_dry() -> None:
    rain = [event("rain", FIRST + 3, hour, depth_mm=4.5) for hour in (8, 20)]
    assert daily_rain(seen(*rain), FIRST, FIRST + 4) == [0, 0, 0, 9, 0]


def test_rain_is_not_known_more_than_ten_days_from_any_reading() -> None:
    context = seen(event("rain", FIRST, depth_mm=3), event("rain", FIRST + 25, depth_mm=0))
    rain = daily_rain(context, FIRST, FIRST + 25)
    assert rain[:11] == [3, *[0] * 10]
    assert rain[11:15] == [None] * 4
    assert rain[15:] == [0] * 11


def test_gauge_of_the_bed_goes_before_that_of_the_garden() -> None:
    near = event("rain", FIRST, bed="b1", depth_mm=2)
    far = event("rain", FIRST, bed="b2", depth_mm=9)
    context = seen(event("rain", FIRST, depth_mm=7), near, far, event("rain", FIRST, depth_mm=-1))
    assert daily_rain(context, FIRST, FIRST) == [2]
