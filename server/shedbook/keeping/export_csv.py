"""A garden as tables for a spreadsheet, one a kind, each event as it was told last."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shedbook.keeping.csv_text import Cell, write_table
from shedbook.keeping.staging import staged_folder
from shedbook.log.describe import describe_kind
from shedbook.log.kinds import KINDS
from shedbook.log.ledger import Ledger, sort_by_time
from shedbook.log.moment import day_text
from shedbook.words import Words

# Of a planting, beside what was written into it: what its events say.
_DAYS = {
    "sown_day": "Sown on",
    "emerged_day": "Emerged on",
    "transplanted_day": "Planted out on",
    "first_pick_day": "First picked on",
    "until_day": "Gone on",
}
_ID_TYPES = frozenset({"id", "id_list"})

Json = Mapping[str, Any]


@dataclass(frozen=True)
class Labels:
    """How things are called: the words of a language, and names of beds, plantings, people."""

    words: Words
    names: Mapping[str, str]

    def name(self, thing_id: Any) -> str:
        """What people call it; its id where it has no name."""
        return self.names.get(thing_id, str(thing_id)) if thing_id is not None else ""

    def header(self, kind: str, field: Json) -> str:
        """A field's label, with its unit."""
        name, unit = field["name"], field.get("unit")
        label = self.words.get(f"field.{kind}.{name}") or self.words.get(f"field.{name}", name)
        return f"{label} ({self.words.get(f'unit.{unit}', unit)})" if unit else label

    def cell(self, field: Json, value: Any) -> Cell:
        """A value as it stands in a table."""
        if value is None:
            return None
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, int | float):
            return value
        if field["type"] == "choice":
            return self.words.get(f"choice.{field['name']}.{value}", str(value))
        if field["name"] == "crop":
            return self.words.get(f"crop.{value}", str(value))
        if field["type"] in _ID_TYPES:
            return "; ".join(
                self.name(one) for one in (value if isinstance(value, list) else [value])
            )
        return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)


def write_tables(ledger: Ledger, folder: Path, labels: Labels) -> dict[str, int]:
    """Fill a new or empty folder; the number of rows of each table. Raises FolderInUse."""
    counts: dict[str, int] = {}
    with staged_folder(folder) as staging:
        for kind, (headers, rows) in _tables(ledger, labels).items():
            write_table(staging / f"{kind}.csv", headers, rows)
            counts[kind] = len(rows)
    return counts


Table = tuple[list[str], list[list[Cell]]]


def _tables(ledger: Ledger, labels: Labels) -> dict[str, Table]:
    by_kind: dict[str, list[Json]] = {}
    for event in sort_by_time(ledger.snapshot()["events"]):
        by_kind.setdefault(event["kind"], []).append(event)
    beds = [bed for bed in ledger.beds() if not bed["hidden"]]
    plantings = [planting for planting in ledger.plantings() if not planting["hidden"]]
    tables = {
        "garden": _garden(ledger.settings(), labels),
        "bed": _places("bed", beds, labels),
        "planting": _plantings(plantings, labels),
        "plant": _plants(plantings, labels),
    }
    tables |= {kind: _events(kind, by_kind[kind], labels) for kind in sorted(by_kind)}
    return {kind: table for kind, table in tables.items() if table[1]}


def _events(kind: str, events: Sequence[Json], labels: Labels) -> Table:
    fields = _fields(kind, [event["details"] for event in events])
    headers = ["Date", "Time", "Bed", "Planting", "Plants"]
    headers += [labels.header(kind, field) for field in fields]
    headers += ["Person", "Answers", "Lifted by", "Entry"]
    rows = [
        [
            day_text(event["day"]),
            f"{event['hour']:02d}:{event['minute']:02d}",
            labels.name(event.get("bed")),
            labels.name(event.get("planting")),
            _numbers(event.get("plants", [])),
            *(labels.cell(field, event["details"].get(field["name"])) for field in fields),
            labels.name(event.get("person")),
            event.get("answers"),
            labels.name(event.get("lifted", {}).get("person")),
            event["id"],
        ]
        for event in events
    ]
    return headers, rows


def _garden(settings: Json, labels: Labels) -> Table:
    fields = [*_fields("garden", []), *_fields("setting", [])]
    headers = [labels.header("setting", field) for field in fields]
    row = [labels.cell(field, settings.get(field["name"])) for field in fields]
    return headers, [row] if settings else []


def _places(kind: str, places: Sequence[Json], labels: Labels) -> Table:
    fields = _fields(kind, [])
    headers = [*(labels.header(kind, field) for field in fields), "Entry"]
    rows = [
        [*(labels.cell(field, place.get(field["name"])) for field in fields), place["id"]]
        for place in places
    ]
    return headers, rows


def _plantings(plantings: Sequence[Json], labels: Labels) -> Table:
    headers, rows = _places("planting", plantings, labels)
    more: list[list[Cell]] = [
        [
            labels.name(planting.get("bed")),
            *(day_text(planting[name]) if name in planting else None for name in _DAYS),
            *row,
        ]
        for planting, row in zip(plantings, rows, strict=True)
    ]
    return ["Bed", *_DAYS.values(), *headers], more


def _plants(plantings: Sequence[Json], labels: Labels) -> Table:
    fields = _fields("plant", [])
    rows: list[list[Cell]] = [
        [
            labels.name(planting["id"]),
            int(plant),
            *(labels.cell(field, told.get(field["name"])) for field in fields),
        ]
        for planting in plantings
        for plant, told in planting.get("labels", {}).items()
    ]
    return ["Planting", "Plant", *(labels.header("plant", field) for field in fields)], rows


def _fields(kind: str, details: Iterable[Json]) -> list[dict[str, Any]]:
    """The fields of a kind, and those that only a newer version knows but were written."""
    known = describe_kind(KINDS[kind])["fields"] if kind in KINDS else []
    names = {field["name"] for field in known}
    more = sorted({name for one in details for name in one} - names)
    return [*known, *({"name": name, "type": "text"} for name in more)]


def _numbers(plants: list[int]) -> str:
    """Plant numbers apart by spaces: 3-7 would be a date to a spreadsheet."""
    return " ".join(str(plant) for plant in plants)
