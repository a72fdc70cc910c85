"""Days and moments, held to Python's own calendar, which the log itself must not use."""

from datetime import date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedbook.log.moment import (
    add_years,
    civil_date,
    day_number,
    day_text,
    moment_text,
    parse_day,
    parse_moment,
)

FIRST = date(1970, 1, 1)
DAYS = st.integers(0, 84_005)
OFFSETS = st.integers(-14 * 60, 14 * 60)


def test_every_day_of_the_span_has_its_number_text_and_date() -> None:
    for number in range(84_006):
        real = FIRST + timedelta(days=number)
        assert day_number(real.year, real.month, real.day) == number
        assert civil_date(number) == (real.year, real.month, real.day)


@given(DAYS)
def test_day_text_is_read_back(number: int) -> None:
    assert day_text(number) == (FIRST + timedelta(days=number)).isoformat()
    assert parse_day(day_text(number)) == number


@given(DAYS, st.integers(0, 86_399), OFFSETS)
def test_moment_text_is_read_back_with_the_local_day_and_hour(
    day: int, second: int, offset: int
) -> None:
    local = datetime(1970, 1, 1, tzinfo=timezone(timedelta(minutes=offset)))
    local += timedelta(days=day, seconds=second)
    instant = int(local.timestamp())
    text = moment_text(instant, offset)
    moment = parse_moment(text)
    assert text == local.isoformat(timespec="seconds")
    assert (moment.day, moment.hour, moment.minute, moment.second) == (
        day,
        local.hour,
        local.minute,
        local.second,
    )
    assert moment.instant == instant


def test_add_years_from_a_leap_day_lands_on_the_28th_where_there_is_none() -> None:
    leap_day = parse_day("2028-02-29")
    assert day_text(add_years(leap_day, 3)) == "2031-02-28"
    assert day_text(add_years(leap_day, 4)) == "2032-02-29"
    assert day_text(add_years(parse_day("2026-06-01"), 3)) == "2029-06-01"


@pytest.mark.parametrize(
    "text", ["2026-06-01T07:40:00Z", "2026-06-01", "2026-02-30T07:40:00+02:00"]
)
def test_parse_moment_of_another_form_or_an_unreal_day_raises(text: str) -> None:
    with pytest.raises(ValueError, match=r"is written like|no such day"):
        parse_moment(text)
