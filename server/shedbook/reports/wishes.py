"""What is wished for in a season, how much ground it takes, and what ground the beds have."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shedbook.log.ledger import Ledger
from shedbook.log.moment import civil_date
from shedbook.rules.match import number, own, text
from shedbook.rules.timing import day_of, start_day

Json = Mapping[str, Any]


@dataclass(frozen=True)
class Wish:
    """A wish as it was last told; area_m2 is None where nothing says how much ground it takes."""

    id: str
    crop: str
    plants: float | None
    area_m2: float | None
    bed: str | None


@dataclass(frozen=True)
class Ground:
    """A bed, with the part of it that is free on the day. Without an area it takes one planting."""

    id: str
    area_m2: float | None
    room: float


def positive(value: Any) -> float | None:
    """The value, if it is a number above nothing."""
    size = number(value)
    return size if size is not None and size > 0 else None


def wishes_of(ledger: Ledger, rulebook: Json, season: int) -> list[Wish]:
    """The wishes for a season, by the time at which they were made."""
    events = [
        event
        for event in ledger.snapshot()["events"]
        if event["kind"] == "wish"
        and event["details"].get("season") == season
        and text(event["details"].get("crop")) is not None
    ]
    events.sort(key=lambda event: (event["instant"], event["id"]))
    return [_wish(ledger, rulebook, event) for event in events]


def _wish(ledger: Ledger, rulebook: Json, event: Json) -> Wish:
    details = event["details"]
    plants = positive(details.get("plants"))
    area = positive(details.get("area_m2"))
    if area is None and plants is not None:
        area = _area_of(plants, _spacing(ledger, rulebook, details["crop"]))
    return Wish(event["id"], details["crop"], plants, area, event.get("bed"))


def _spacing(ledger: Ledger, rulebook: Json, crop: str) -> tuple[float, float] | None:
    """How far apart this garden last set the crop, else the least that its facts say, in metres."""
    told = [one for one in ledger.plantings() if one.get("crop") == crop and not one["hidden"]]
    for one in sorted(told, key=lambda one: (one.get("from_day", 0), one["id"]), reverse=True):
        row, between = positive(one.get("in_row_m")), positive(one.get("between_rows_m"))
        if row and between:
            return row, between
    for crops in (ledger.settings().get("crops"), rulebook["crops"]):
        facts = own(crops, crop)
        row = positive(own(facts, "in_row_low_m"))
        between = positive(own(facts, "between_rows_low_m"))
        if row and between:
            return row, between
    return None


def _area_of(plants: float, spacing: tuple[float, float] | None) -> float | None:
    return None if spacing is None else plants * spacing[0] * spacing[1]


def ground_of(ledger: Ledger, rulebook: Json, season: int, day: int) -> list[Ground]:
    """The beds that may be planted on a day of the season, by id."""
    return [
        Ground(bed["id"], area_of_bed(bed), _room(ledger, rulebook, bed, season, day))
        for bed in ledger.beds()
        if not bed["hidden"] and not _is_retired(bed, day)
    ]


def area_of_bed(bed: Json) -> float | None:
    """Length by width, in square metres."""
    length, width = positive(bed.get("length_m")), positive(bed.get("width_m"))
    return length * width if length and width else None


def _is_retired(bed: Json, day: int) -> bool:
    retired = day_of(bed, "retired_on")
    return retired is not None and retired <= day


def _room(ledger: Ledger, rulebook: Json, bed: Json, season: int, day: int) -> float:
    """What plantings of the season and perennials leave; others are thought to be out by then."""
    room = 1.0
    area = area_of_bed(bed)
    for one in ledger.residents(bed["id"]):
        if not _takes_room(rulebook, one, season, day):
            continue
        row, between = positive(one.get("in_row_m")), positive(one.get("between_rows_m"))
        plants = positive(one.get("plants"))
        taken = plants * row * between if plants and row and between else None
        room -= share_of(taken, area)
    return max(room, 0.0)


def _takes_room(rulebook: Json, planting: Json, season: int, day: int) -> bool:
    start, until = start_day(planting), planting.get("until_day")
    if start is None or (until is not None and until <= day):
        return False
    if civil_date(start)[0] == season:
        return True
    facts = own(rulebook["crops"], str(planting.get("crop")))
    return start < day and own(facts, "perennial") is True


def share_of(area: float | None, whole: float | None) -> float:
    """The part of a bed that an area takes; the whole of it where either is not known."""
    return 1.0 if area is None or whole is None else area / whole
