"""Moments and days without any library clock: the twin of client/log/moment.js.

One pattern reads a moment on both sides, so a phone and the shed can never disagree on the day.
"""

import functools
import re
from typing import NamedTuple

FIRST_YEAR = 1970
LAST_YEAR = 2199
LONGEST_OFFSET_MINUTES = 14 * 60
DAY_SECONDS = 86400
DAYS_BEFORE_MONTH = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)

_MOMENT = re.compile(r"(\d{4}-\d\d-\d\d)T(\d\d):(\d\d):(\d\d)([+-])(\d\d):(\d\d)", re.ASCII)
_DAY = re.compile(r"(\d{4})-(\d\d)-(\d\d)", re.ASCII)


class Moment(NamedTuple):
    """A local day and time of day, and the instant they name."""

    day: int
    hour: int
    minute: int
    second: int
    instant: int


def is_leap(year: int) -> bool:
    """Whether February has 29 days in this year."""
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def month_days(year: int, month: int) -> int:
    """Days in a month, 28 to 31."""
    leap_day = 1 if month == 2 and is_leap(year) else 0
    return DAYS_BEFORE_MONTH[month] - DAYS_BEFORE_MONTH[month - 1] + leap_day


def day_number(year: int, month: int, day: int) -> int:
    """Days from 1970-01-01 to this date, which the caller knows to be real."""
    past = year - 1
    # 477 leap days lie before 1970 in this count.
    leap_days = past // 4 - past // 100 + past // 400 - 477
    this_year = 1 if month > 2 and is_leap(year) else 0
    return (year - 1970) * 365 + leap_days + DAYS_BEFORE_MONTH[month - 1] + this_year + day - 1


def civil_date(day: int) -> tuple[int, int, int]:
    """The year, month and day of the month of a day number."""
    year = 1970 + day // 366
    while day_number(year, 1, 1) > day:
        year -= 1
    while day_number(year + 1, 1, 1) <= day:
        year += 1
    month = 1
    while month < 12 and day_number(year, month + 1, 1) <= day:
        month += 1
    return year, month, day - day_number(year, month, 1) + 1


# A season has some hundred days, and a log reads each of them thousands of times.
@functools.lru_cache(maxsize=4096)
def parse_day(text: str) -> int:
    """The day number of `YYYY-MM-DD`; ValueError for any other form or an unreal day."""
    found = _DAY.fullmatch(text)
    if found is None:
        raise ValueError("A date is written like 2026-06-01.")
    year, month, day = int(found[1]), int(found[2]), int(found[3])
    if year < FIRST_YEAR or year > LAST_YEAR:
        raise ValueError("A year lies between 1970 and 2199.")
    if month < 1 or month > 12 or day < 1 or day > month_days(year, month):
        raise ValueError("There is no such day.")
    return day_number(year, month, day)


def day_text(day: int) -> str:
    """A day number as `YYYY-MM-DD`."""
    year, month, of_month = civil_date(day)
    return f"{year:04d}-{month:02d}-{of_month:02d}"


def add_years(day: int, years: int) -> int:
    """The same date some years on; 29 February becomes the 28th where there is none."""
    year, month, of_month = civil_date(day)
    longest = month_days(year + years, month)
    return day_number(year + years, month, of_month if of_month < longest else longest)


def parse_moment(text: str) -> Moment:
    """Read `YYYY-MM-DDTHH:MM:SS±HH:MM`; ValueError for any other form or an unreal time."""
    found = _MOMENT.fullmatch(text)
    if found is None:
        raise ValueError("A moment is written like 2026-06-01T07:40:00+02:00.")
    date, *time_of_day, sign, offset_hours, past_hour = found.groups()
    day = parse_day(date)
    hour, minute, second = map(int, time_of_day)
    if hour > 23 or minute > 59 or second > 59:
        raise ValueError("There is no such time of day.")
    offset_minutes = int(offset_hours) * 60 + int(past_hour)
    if past_hour > "59" or offset_minutes > LONGEST_OFFSET_MINUTES:
        raise ValueError("An offset is at most 14:00.")
    if sign == "-":
        offset_minutes = 0 - offset_minutes
    local = day * DAY_SECONDS + hour * 3600 + minute * 60 + second
    return Moment(day, hour, minute, second, local - offset_minutes * 60)


def moment_text(instant: int, offset_minutes: int) -> str:
    """Write an instant in the one form, in local time at this offset from UTC."""
    local = instant + offset_minutes * 60
    day = local // DAY_SECONDS
    rest = local - day * DAY_SECONDS
    hour, minute, second = rest // 3600, rest // 60 % 60, rest % 60
    sign = "-" if offset_minutes < 0 else "+"
    away = 0 - offset_minutes if offset_minutes < 0 else offset_minutes
    clock = f"{hour:02d}:{minute:02d}:{second:02d}"
    return f"{day_text(day)}T{clock}{sign}{away // 60:02d}:{away % 60:02d}"
