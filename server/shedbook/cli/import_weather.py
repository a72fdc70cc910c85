"""The part of `shedbook import` that takes a station's table: shows it, asks, then stores all."""

from collections.abc import Sequence
from pathlib import Path

import click

from shedbook.cli.import_table import take_rows
from shedbook.cli.opening import choose_garden
from shedbook.keeping.csv_cells import Writing
from shedbook.keeping.csv_columns import MappingUnfit, read_pairs
from shedbook.keeping.csv_text import CsvUnreadable, read_table
from shedbook.keeping.import_weather import (
    KnownRain,
    Station,
    check_units,
    read_station_columns,
    read_weather,
)
from shedbook.log.ledger import Ledger
from shedbook.records.engine import now_ms
from shedbook.records.ledgers import read_ledger


def import_weather(
    file: Path,
    wanted: str | None,
    columns: Sequence[str],
    fixed: Sequence[str],
    units: Sequence[str],
    writing: Writing,
    *,
    sure: bool,
    accept: bool,
) -> None:
    """Read, show, ask, store. Needs an app context."""
    garden = choose_garden(wanted)
    try:
        headers, cells = read_table(file)
        mapped, same, measured = read_pairs(columns), read_pairs(fixed), read_pairs(units)
        positions = read_station_columns(headers, mapped, same)
        check_units(measured)
    except MappingUnfit as error:
        raise click.UsageError(str(error)) from error
    except CsvUnreadable as error:
        raise click.ClickException(str(error)) from error
    rain = _rain_of(read_ledger(garden.id))
    station = Station(positions, mapped, same, measured, writing, garden.zone, rain)
    take_rows(garden, read_weather(cells, station, now_ms() // 1000), sure=sure, accept=accept)


def _rain_of(ledger: Ledger) -> KnownRain:
    found: dict[int, list[tuple[int, float]]] = {}
    for event in ledger.weather():
        if event["kind"] == "rain":
            read = (event["instant"], event["details"].get("depth_mm"))
            found.setdefault(event["day"], []).append(read)
    return found
