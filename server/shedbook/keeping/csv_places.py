"""Finds the beds and plantings that a table names, as they were on the day of the row."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from shedbook.keeping.csv_cells import CellUnfit
from shedbook.log.ledger import Ledger
from shedbook.log.moment import parse_day
from shedbook.words import Words, planting_name


class BedBook:
    """The beds and plantings of a garden by their names."""

    def __init__(self, ledger: Ledger, words: Words) -> None:
        self._beds = [bed for bed in ledger.beds() if not bed["hidden"]]
        self._plantings = [one for one in ledger.plantings() if not one["hidden"]]
        self._words = words

    def find(self, bed: str, planting: str, day: date, *, needs_planting: bool) -> dict[str, str]:
        """The subjects that a row is about. Raises CellUnfit.

        A kind that needs a planting takes the only one that stood in the bed on that day.
        """
        subjects: dict[str, str] = {}
        if bed:
            subjects["bed"] = self._bed(bed)["id"]
        if planting:
            chosen = self._planting(planting, subjects.get("bed"), day)
        elif needs_planting and bed:
            chosen = self._only_one(bed, subjects["bed"], day)
        else:
            return subjects
        subjects["planting"] = chosen["id"]
        if "bed" not in subjects and chosen.get("bed"):
            subjects["bed"] = chosen["bed"]
        return subjects

    def among(self, planting_id: str | None, plants: list[int]) -> list[int]:
        """The plants, if the planting has that many."""
        counts = {one["id"]: one.get("plants") for one in self._plantings}
        count = counts.get(planting_id or "")
        if count is not None and plants[-1] > count:
            raise CellUnfit(f"That planting has the plants 1 to {int(count)}.")
        return plants

    def _bed(self, wanted: str) -> Mapping[str, Any]:
        found = [bed for bed in self._beds if _is_called(wanted, bed["id"], bed.get("name"))]
        if len(found) == 1:
            return found[0]
        if found:
            raise CellUnfit(f"More than one bed is called {wanted}. Write its id.")
        names = ", ".join(sorted(str(bed.get("name", bed["id"])) for bed in self._beds))
        raise CellUnfit(f"No bed is called {wanted}. The beds are: {names or 'none yet'}.")

    def _planting(self, wanted: str, bed_id: str | None, day: date) -> Mapping[str, Any]:
        found = [
            one
            for one in self._plantings
            if bed_id in (None, one.get("bed")) and _is_called(wanted, *self._names(one))
        ]
        found = [one for one in found if _stood(one, day)] or found
        if len(found) == 1:
            return found[0]
        if found:
            raise CellUnfit(f"More than one planting fits {wanted}. Write its id.")
        raise CellUnfit(f"No planting fits {wanted}.")

    def _only_one(self, bed: str, bed_id: str, day: date) -> Mapping[str, Any]:
        found = [one for one in self._plantings if one.get("bed") == bed_id and _stood(one, day)]
        if len(found) == 1:
            return found[0]
        stood = ", ".join(self._names(one)[-1] or one["id"] for one in found) or "none"
        raise CellUnfit(f"Say which planting: in {bed} stood {stood} on {day.isoformat()}.")

    def _names(self, planting: Mapping[str, Any]) -> tuple[str | None, ...]:
        crop, variety = planting.get("crop"), planting.get("variety")
        return (planting["id"], crop, variety, planting_name(self._words, crop, variety))


def _stood(planting: Mapping[str, Any], day: date) -> bool:
    number = parse_day(day.isoformat())
    first, last = planting.get("from_day"), planting.get("until_day")
    return first is not None and first <= number and (last is None or number <= last)


def _is_called(wanted: str, *names: str | None) -> bool:
    return wanted.casefold() in {name.casefold() for name in names if name}
