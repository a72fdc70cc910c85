"""How plants stand in a bed: rows along its length; the twin of client/log/layout.js."""

from typing import Any


def plants_per_row(count: int, rows: int) -> int:
    """The plants of a full row; the last row may hold fewer."""
    return (count + rows - 1) // rows


def row_of(plant: int, count: int, rows: int) -> int:
    """The row, from 1, that a plant stands in."""
    return (plant - 1) // plants_per_row(count, rows) + 1


def plants_of_row(row: int, count: int, rows: int) -> list[int]:
    """The plants of a row, from 1."""
    per_row = plants_per_row(count, rows)
    first = (row - 1) * per_row + 1
    last = row * per_row
    return list(range(first, (last if last < count else count) + 1))


def position_of(plant: int, planting: dict[str, Any], bed: dict[str, Any]) -> tuple[float, float]:
    """Metres along and across the bed, rows centred; unknown sizes follow from the others."""
    count = planting.get("plants", plant)
    rows = planting.get("rows", 1)
    per_row = plants_per_row(count, rows)
    row = row_of(plant, count, rows)
    place = plant - (row - 1) * per_row
    x_m = _along(place, per_row, planting.get("in_row_m"), bed.get("length_m"))
    y_m = _along(row, rows, planting.get("between_rows_m"), bed.get("width_m"))
    return x_m, y_m


def _along(place: int, places: int, spacing_m: float | None, room_m: float | None) -> float:
    """Where one of so many places lies; spread evenly when the spacing is unknown or too wide."""
    if room_m is None:
        room_m = places * (1 if spacing_m is None else spacing_m)
    if spacing_m is None or (places - 1) * spacing_m > room_m:
        spacing_m = room_m / places
    return (room_m - (places - 1) * spacing_m) / 2 + (place - 1) * spacing_m
