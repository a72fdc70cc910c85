"""Frost in the coming night: by the low that the grower types, else only what can't be told."""

from shedbook.log.moment import civil_date, day_number, day_text, month_days, parse_day
from shedbook.rules.answered import is_answered
from shedbook.rules.daily import daily_air, events_in_days
from shedbook.rules.finding import Finding, Reason, finding, reason
from shedbook.rules.match import Context, Event, Rule, days, find_for, limit, number, stands, text

# Places in the year are counted in a leap year, which has every date.
LEAP_YEAR = 2000
YEAR_DAYS = 366
HALF_YEAR = 183


def frost(context: Context, rule: Rule) -> list[Finding]:
    """Cover tonight, or say that nobody can tell; an expected low above the limit says nothing."""
    planting = context.view["planting"]
    ordinal = day_text(context.today)
    if not stands(planting, context.today) or is_answered(context, rule, ordinal):
        return []
    if _is_covered(context):
        return []
    told = _told(context)
    if told is None:
        why = _risk(context, rule)
        if why is None:
            return []
        made = finding(context, rule, ordinal, "unknown", {}, [why, reason("frost.ask")], [])
        return [made | {"settles": {"kind": "forecast", "details": {}}}]
    low = told["details"]["low_c"]
    cover_at = limit(context, rule, "cover_at_c") or 0
    if low > cover_at:
        return []
    values = {"low_c": low, "cover_at_c": cover_at}
    why_cover = [
        reason("done.forecast", done_day=told["day"]),
        reason("frost.limit", low_c=low, cover_at_c=cover_at),
        reason("frost.still_nights"),
    ]
    made = finding(context, rule, ordinal, "due", values, why_cover, [told])
    return [made | {"opens": context.today, "due": context.today, "closes": context.today}]


def _told(context: Context) -> Event | None:
    """The forecast for tonight that was written last."""
    told = [
        event
        for event in events_in_days(context, "forecast", context.today, context.today)
        if number(event["details"].get("low_c")) is not None
    ]
    return told[-1] if told else None


def _is_covered(context: Context) -> bool:
    """Was a cover put on today and not taken off again?"""
    covers = find_for(context, {"kind": "cover"}, context.view["planting"])
    return (
        bool(covers)
        and covers[-1]["day"] == context.today
        and covers[-1]["details"].get("what") != "none"
    )


def _risk(context: Context, rule: Rule) -> Reason | None:
    """Why frost can't be ruled out tonight; None in the part of the year that has none."""
    settings = context.view["settings"]
    last, first = (_place(settings.get(name)) for name in ("last_frost", "first_frost"))
    if last is None and first is None:
        return None if _was_warm(context, rule) else reason("frost.no_dates")
    year, month, day = civil_date(context.today)
    part = _part(day_number(LEAP_YEAR, month, day) - day_number(LEAP_YEAR, 1, 1), last, first)
    if part == "ahead" and last is not None:
        coming = _in_year(year, last)
        coming = coming if coming >= context.today else _in_year(year + 1, last)
        return reason("frost.ahead", last_frost_day=coming)
    if part == "since" and first is not None:
        past = _in_year(year, first)
        past = past if past <= context.today else _in_year(year - 1, first)
        return reason("frost.since", first_frost_day=past)
    return None


def _part(today: int, last: int | None, first: int | None) -> str | None:
    """Is the last frost of spring ahead, the first of autumn past, or neither?"""
    if last is None:
        return "since" if first is not None and (today - first) % YEAR_DAYS < HALF_YEAR else None
    to_last = (last - today) % YEAR_DAYS
    if first is None:
        return "ahead" if 0 < to_last < HALF_YEAR else None
    if (today - last) % YEAR_DAYS < (first - last) % YEAR_DAYS:
        return None
    return "ahead" if to_last <= (today - first) % YEAR_DAYS else "since"


def _place(month_day: object) -> int | None:
    """Which day of a leap year it is, None if it is no day."""
    written = text(month_day)
    if written is None:
        return None
    try:
        return parse_day(f"{LEAP_YEAR}-{written}") - day_number(LEAP_YEAR, 1, 1)
    except ValueError:
        return None


def _in_year(year: int, place: int) -> int:
    """The date of that place in a year."""
    _, month, day = civil_date(day_number(LEAP_YEAR, 1, 1) + place)
    return day_number(year, month, min(day, month_days(year, month)))


def _was_warm(context: Context, rule: Rule) -> bool:
    """Were the nights read of late all far from frost? Then nobody is asked about tonight."""
    first = context.today - days(context, rule, "look_back_days")
    air = daily_air(context, context.view["planting"], first, context.today)
    lows = [one.low_c for one in air if one.low_c is not None]
    return bool(lows) and min(lows) > (limit(context, rule, "quiet_above_c") or 0)
