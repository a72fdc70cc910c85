"""One round of looking at plants: what was logged of one organism within a day, put together.

Entries that name plants say which ones; entries that don't are samples, which add up. Where both
were written in one round, the named plants are taken to be among the samples.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from shedbook.rules.match import Event, is_partial, number, text

DAY_S = 86_400
MOST_COUNTS = 1000


@dataclass
class Session:
    """What one round found: plants looked at and affected, and counts per unit."""

    events: list[Event]
    looked: float = 0
    affected: float = 0
    # Whether the affected among those looked at are known.
    has_share: bool = False
    per: str = "plant"
    units: float = 0
    total: float = 0
    counts: list[float] = field(default_factory=list)
    # Plants known one by one: affected or not.
    known: dict[int, bool] = field(default_factory=dict)

    @property
    def mean(self) -> float | None:
        """The mean count per unit, None when no count was logged."""
        return self.total / self.units if self.units > 0 else None


def split_sessions(events: list[Event]) -> list[list[Event]]:
    """Events of one organism, earliest first, in rounds of at most a day each."""
    rounds: list[list[Event]] = []
    for event in reversed(events):
        if rounds and event["instant"] > rounds[-1][-1]["instant"] - DAY_S:
            rounds[-1].insert(0, event)
        else:
            rounds.append([event])
    return rounds[::-1]


def read_session(events: list[Event]) -> Session:
    """Put the entries of one round together."""
    session = Session(events)
    per = text(events[0]["details"].get("per"))
    session.per = per or "plant"
    for event in events:
        _take_counts(session, event)
        _take_plants(session, event)
    known = len(session.known)
    ill = len([plant for plant, is_ill in session.known.items() if is_ill])
    session.has_share = session.looked > 0 or known > 0
    session.looked = max(session.looked, known)
    session.affected = max(session.affected, ill)
    return session


def _take_counts(session: Session, event: Event) -> None:
    """Add what was counted, as long as it was counted by the same unit."""
    details = event["details"]
    if (text(details.get("per")) or "plant") != session.per:
        return
    counts, count = _counts(details), number(details.get("count"))
    if counts:
        session.counts.extend(counts)
        session.units += len(counts)
        for one in counts:
            session.total += one
        return
    units = _looked(event)
    if units is not None and count is not None and count >= 0:
        session.units += units
        session.total += count


def _take_plants(session: Session, event: Event) -> None:
    """Add the plants looked at, one by one where the entry tells them apart."""
    looked = _looked(event)
    if looked is None:
        return
    affected = _affected(event, looked)
    if is_partial(event) and looked == len(event["plants"]):
        named = sorted(event["plants"])
        counts = _counts(event["details"])
        if len(counts) == len(named) and (text(event["details"].get("per")) or "plant") == "plant":
            session.known.update(
                {plant: count > 0 for plant, count in zip(named, counts, strict=True)}
            )
            return
        if affected in (0, len(named)):
            session.known.update(dict.fromkeys(named, affected != 0))
            return
    if affected is not None and affected <= looked:
        session.looked += looked
        session.affected += affected


def _looked(event: Event) -> float | None:
    """How many were looked at: as logged, or as many as are named or counted."""
    details = event["details"]
    looked = number(details.get("plants_looked"))
    if looked is not None:
        return looked if looked >= 1 else None
    counts = _counts(details)
    if counts and (text(details.get("per")) or "plant") == "plant":
        return len(counts)
    return len(event["plants"]) if is_partial(event) and event["plants"] else None


def _affected(event: Event, looked: float) -> float | None:
    """How many of them were affected, None when the entry does not say."""
    details = event["details"]
    affected = number(details.get("plants_affected"))
    if affected is not None:
        return affected if affected >= 0 else None
    counts = _counts(details)
    if counts and (text(details.get("per")) or "plant") == "plant":
        return len([count for count in counts if count > 0])
    count, grade = number(details.get("count")), text(details.get("grade"))
    if count == 0 or (count is None and grade == "none"):
        return 0
    # Plants that were named with what was found on them are those that have it.
    is_named = is_partial(event) and looked == len(event["plants"])
    if is_named and (looked == 1 or (count is None and grade is not None)):
        return looked
    return None


def _counts(details: Mapping[str, Any]) -> list[float]:
    given = details.get("counts")
    if not isinstance(given, list) or len(given) > MOST_COUNTS:
        return []
    counts = [number(one) for one in given]
    good = [one for one in counts if one is not None and one >= 0]
    return good if len(good) == len(counts) else []
