"""Findings as the events of a calendar (RFC 5545)."""

import hashlib
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Any

import icalendar

from shedbook.api.findings import today_in
from shedbook.words import Names, Words, compose, finding_text, format_value

Finding = Mapping[str, Any]

# What has a day to be done on; a wait has its time. The other states have neither.
_DUE_STATES = ("upcoming", "due", "overdue")
_FIRST_DAY = date(1970, 1, 1)
# A calendar program looks again after this time; it may look sooner.
LOOK_AGAIN = timedelta(hours=1)


def calendar_of(
    findings: Sequence[Finding],
    rules: Mapping[str, Mapping[str, Any]],
    names: Names,
    words: Words,
    *,
    garden_name: str,
    zone: str,
    today: int,
    as_of_s: int,
) -> bytes:
    """What is due as events of whole days, and what must wait as spans of time."""
    calendar = icalendar.Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", "-//Shedbook//What is due//EN")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", garden_name)
    calendar.add("refresh-interval", LOOK_AGAIN, parameters={"value": "DURATION"})
    for finding in findings:
        span = _span_of(finding, today, zone)
        if span is None:
            continue
        text = finding_text(words, finding, rules[finding["rule"]], names, zone)
        calendar.add_component(_event(finding, span, text, _where(finding, names, words), as_of_s))
    return bytes(calendar.to_ical())


def _span_of(
    finding: Finding, today: int, zone: str
) -> tuple[date, date] | tuple[datetime, datetime] | None:
    """Its days, the last one not counted as the standard has it; or the time that it forbids."""
    since, until, state = finding["from"], finding["until"], finding["state"]
    if state == "blocked" and since is not None and until is not None:
        return datetime.fromtimestamp(since, UTC), datetime.fromtimestamp(until, UTC)
    opens, closes = finding["opens"], finding["closes"]
    if state == "blocked" and opens is not None:
        # The work itself, as soon as it is let in again.
        opens = max(opens, today if until is None else today_in(zone, until * 1000))
    elif state == "overdue" or (state == "due" and (opens is None or closes is None)):
        # On the day it was meant for nobody looks any more.
        opens = closes = today
    elif state not in _DUE_STATES or opens is None:
        return None
    return _day(opens), _day(max(opens, opens if closes is None else closes) + 1)


def _event(
    finding: Finding,
    span: tuple[date, date],
    text: Mapping[str, Any],
    where: str,
    as_of_s: int,
) -> icalendar.Event:
    event = icalendar.Event()
    # The key stays with the finding when its days change: the program moves the event.
    event.add("uid", f"{hashlib.sha256(finding['key'].encode()).hexdigest()[:32]}@shedbook")
    event.add("dtstamp", datetime.fromtimestamp(as_of_s, UTC))
    event.add("dtstart", span[0])
    event.add("dtend", span[1])
    event.add("summary", f"{text['title']}: {where}")
    told = [text["message"], *text["reasons"]]
    event.add("description", "\n".join([*told, *([text["caution"]] if text["caution"] else [])]))
    event.add("categories", [finding["state"]])
    event.add("transp", "TRANSPARENT")
    return event


def _where(finding: Finding, names: Names, words: Words) -> str:
    subject = finding["subject"]
    known = [slot for slot in ("bed", "planting") if subject.get(slot) in names]
    parts = [names[subject[slot]] for slot in known]
    if subject.get("plants"):
        parts.append(format_value(words, "plants", subject["plants"], names, "UTC"))
    return ", ".join(parts) or compose(words, "screen.who.garden")


def _day(number: int) -> date:
    return _FIRST_DAY + timedelta(days=number)
