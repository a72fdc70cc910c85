"""What a demo season is written in before it becomes entries: drafts with names in place of ids."""

import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Any

LEAD, HELPER, QUIET = "lead", "helper", "quiet"


@dataclass(frozen=True)
class Ref:
    """Stands for the id of a bed, a planting or a labelled draft until the entries are written."""

    name: str


@dataclass(frozen=True)
class Draft:
    """One tap on one phone. `label` is what a Ref of another draft names; `bed` and `planting`
    are labels too, and a draft that makes a bed or a planting carries its own label there."""

    at: datetime
    phone: str
    kind: str
    details: dict[str, Any] = field(default_factory=dict)
    bed: str | None = None
    planting: str | None = None
    plants: tuple[int, ...] = ()
    label: str | None = None


class Season:
    """The drafts of one garden, dated by days before `today`, with one seeded source of chance."""

    def __init__(self, today: date) -> None:
        self.today = today
        self.chance = random.Random("wrenhollow")
        self.drafts: list[Draft] = []

    def at(self, days_ago: int, hour: int, minute: int = 0) -> datetime:
        """Local time in the garden; a negative number of days lies ahead."""
        return datetime.combine(self.today - timedelta(days=days_ago), time(hour, minute))

    def date_text(self, days_ago: int) -> str:
        return (self.today - timedelta(days=days_ago)).isoformat()

    def tap(
        self,
        at: datetime,
        kind: str,
        details: dict[str, Any] | None = None,
        *,
        phone: str = LEAD,
        bed: str | None = None,
        planting: str | None = None,
        plants: Sequence[int] = (),
        label: str | None = None,
    ) -> None:
        self.drafts.append(
            Draft(at, phone, kind, details or {}, bed, planting, tuple(plants), label)
        )

    def near(self, value: float, spread: float, step: float) -> float:
        """About `value`, up to `spread` of it more or less, on a scale that people would read."""
        wanted = value * (1 + spread * (2 * self.chance.random() - 1))
        return round(round(wanted / step) * step, 3)
