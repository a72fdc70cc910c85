"""What each trap caught, week by week."""

from typing import Any

from shedbook.log.ledger import Ledger
from shedbook.rules.match import AHEAD_S, Event, in_time, number, text
from shedbook.rules.trap_catch import NIGHTS_A_WEEK, nights_of

# 1970-01-01 was a Thursday, and weeks begin on Monday.
_THURSDAY = 3


def catches_by_week(ledger: Ledger, now: int) -> list[dict[str, Any]]:
    """Readings of one organism in one trap, summed by the week in which they were made."""
    events = [one for one in ledger.snapshot()["events"] if one["instant"] <= now + AHEAD_S]
    told = []
    for (trap, organism), readings in sorted(_readings(events).items()):
        hung = [
            event
            for event in events
            if event["kind"] == "trap_set" and event["details"].get("trap") == trap
        ]
        told.append(
            {
                "trap": trap,
                "organism": organism,
                "bed": readings[-1].get("bed"),
                "weeks": _weeks(readings, hung),
            }
        )
    return told


def week_of(day: int) -> int:
    """The Monday of the week in which the day lies."""
    return day - (day + _THURSDAY) % 7


def _readings(events: list[Event]) -> dict[tuple[str, str], list[Event]]:
    groups: dict[tuple[str, str], list[Event]] = {}
    for event in in_time(one for one in events if one["kind"] == "trap_read"):
        trap, organism = (text(event["details"].get(name)) for name in ("trap", "organism"))
        count = number(event["details"].get("count"))
        if trap and organism and count is not None:
            groups.setdefault((trap, organism), []).append(event)
    return groups


def _weeks(readings: list[Event], hung: list[Event]) -> list[dict[str, Any]]:
    weeks: dict[int, dict[str, Any]] = {}
    for at, event in enumerate(readings):
        week = weeks.setdefault(
            week_of(event["day"]), {"week_day": week_of(event["day"]), "count": 0, "nights": 0}
        )
        nights = nights_of(readings, at, hung)
        week["count"] += event["details"]["count"]
        # One reading without its nights leaves the week's open.
        known = week["nights"] is not None and nights is not None
        week["nights"] = week["nights"] + nights if known else None
    return [
        week
        | {"a_week": week["count"] / week["nights"] * NIGHTS_A_WEEK if week["nights"] else None}
        for week in weeks.values()
    ]
