"""The tables say what was told last, in words, with units."""

from pathlib import Path
from typing import Any

import pytest

from shedbook.api.names import names_of_garden
from shedbook.keeping.csv_text import read_table
from shedbook.keeping.export_csv import Labels, write_tables
from shedbook.keeping.staging import FolderInUse
from shedbook.log.ledger import Ledger
from shedbook.records.ledgers import read_ledger
from shedbook.records.models import db
from shedbook.words import load_words
from tests.api.builders import Phone
from tests.builders import Book
from tests.keeping.sheds import Season, opened


def tables(folder: Path, garden: str, target: Path) -> dict[str, list[dict[str, str]]]:
    """Every table of a garden as rows by header, as a spreadsheet shows them."""
    words = load_words()
    with opened(folder):
        labels = Labels(words, names_of_garden(db.session(), garden, words))
        counts = write_tables(read_ledger(garden), target, labels)
    read = {file.stem: rows_of(file) for file in target.iterdir()}
    assert {kind: len(rows) for kind, rows in read.items()} == counts
    return read


def rows_of(file: Path) -> list[dict[str, str]]:
    headers, rows = read_table(file)
    assert len(set(headers)) == len(headers)
    return [dict(zip(headers, cells, strict=True)) for _, cells in rows]


def shown(rows: list[dict[str, Any]], *headers: str) -> list[tuple[Any, ...]]:
    return [tuple(row[header] for header in headers) for row in rows]


def test_events_are_as_told_last_and_what_was_taken_back_is_gone(
    season: Season, tmp_path: Path
) -> None:
    read = tables(season.data, season.garden, tmp_path / "tables")
    water = shown(read["water"], "Date", "Time", "Bed", "Water (L)", "Way of watering", "Person")
    assert water == [
        ("2026-06-01", "07:40", "North", "25", "", "Lead"),
        ("2026-06-01", "07:40", "North", "9", "", "Lead"),
    ]
    assert "weed" not in read
    assert "correct" not in read
    assert shown(read["treat"], "Way of treating", "Lifted by") == [("Product from a shop", "Lead")]
    assert shown(read["pick"], "Planting", "Plants", "Fruits") == [
        ("long mild red (pepper)", "1 2 3", "3")
    ]
    assert shown(read["air_temperature"], "Lowest temperature (°C)") == [("-3.5",)]


def test_beds_and_plantings_are_as_they_stand(season: Season, tmp_path: Path) -> None:
    read = tables(season.data, season.garden, tmp_path / "tables")
    assert shown(read["bed"], "Name of the bed", "Kind of bed", "Beds beside it") == [
        ("North", "In the ground", "South"),
        ("South", "In the ground", ""),
    ]
    planting = shown(read["planting"], "Bed", "Planted out on", "Crop", "Variety")
    assert planting == [("North", "2026-06-01", "pepper", "long mild red")]


def test_what_only_a_newer_version_knows_is_written_too(lead: Phone, data: Path) -> None:
    lead.sync([lead.entry("rain", {"depth_mm": 4, "gauge": {"id": 7}})])
    lead.sync([lead.entry("moonphase", {"phase": "=new"})])
    read = tables(data, lead.garden, data.parent / "tables")
    assert shown(read["rain"], "gauge") == [('{"id": 7}',)]
    assert shown(read["moonphase"], "phase") == [("=new",)]
    assert b"'=new" in (data.parent / "tables" / "moonphase.csv").read_bytes()


def test_plants_with_a_label_have_a_table(tmp_path: Path) -> None:
    book = Book()
    bed = book.write("bed", {"name": "North"})
    planting = book.write("planting", {"crop": "pepper", "plants": 3}, bed=bed["id"])
    book.write("plant", {"label": "Best one"}, planting=planting["id"], plants=[2])
    ledger = Ledger()
    ledger.add(book.entries)
    names = {planting["id"]: "pepper"}
    write_tables(ledger, tmp_path / "tables", Labels(load_words(), names))
    rows = rows_of(tmp_path / "tables" / "plant.csv")
    assert shown(rows, "Planting", "Plant", "Name of the plant") == [("pepper", "2", "Best one")]


def test_a_folder_in_use_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "mine.csv").write_text("mine", encoding="utf-8")
    with pytest.raises(FolderInUse):
        write_tables(Ledger(), tmp_path, Labels({}, {}))
    assert [file.name for file in tmp_path.iterdir()] == ["mine.csv"]
