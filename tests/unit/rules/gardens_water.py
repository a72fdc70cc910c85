"""Weeks of weather with holes in them, soils and waterings, so that water accounts can be kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from shedbook.log.kinds.places import SOIL_TEXTURES, WATER_METHODS
from shedbook.log.moment import day_number

if TYPE_CHECKING:
    from tests.unit.rules.gardens import RandomGarden

DAY_S = 86_400
SEASON_START = day_number(2026, 3, 20)


def add_water(garden: RandomGarden) -> int:
    """Add a place, soils, weather and waterings; an instant near the end of that weather."""
    chance = garden.chance
    latitude = chance.choice([51.7, 51.7, -33.9, -33.9, 0, 64.9, 39.4575, 39.4575, 66])
    if chance.random() < 0.95:
        garden.add("setting", {"latitude_deg": latitude, "longitude_deg": 5})
    for bed in garden.beds:
        garden.add("bed", _ground(garden), {"bed": bed})
    start = (SEASON_START + chance.randrange(200)) * DAY_S
    days = chance.choice([3, 12, 30, 45])
    for planting, bed in garden.plantings:
        if bed is not None and chance.random() < 0.8:
            at = start + chance.randrange(-20, 5) * DAY_S + 36_000
            garden.add("transplant", {}, {"planting": planting, "bed": bed}, instant=at)
    kept = chance.choice([0, 0.4, 0.5])
    for day in range(days):
        noon = start + day * DAY_S + chance.choice([1800, 43_200, 79_200])
        if chance.random() < kept + 0.5:
            garden.add("air_temperature", _air(garden), _where(garden), instant=noon)
        if chance.random() < 0.3:
            garden.add("rain", _rain(garden), _where(garden), instant=noon)
        if chance.random() < 0.25:
            subjects = {"bed": chance.choice(garden.beds)}
            garden.add("water", _given(garden), subjects, instant=noon)
    if chance.random() < 0.5:
        bed = {"bed": chance.choice(garden.beds)}
        garden.add("catch_cans", _cans(garden), bed, instant=start + DAY_S)
    return start + (days + chance.choice([-2, 0, 0, 1, 2, 8])) * DAY_S + 3600


def _ground(garden: RandomGarden) -> dict[str, Any]:
    chance = garden.chance
    details: dict[str, Any] = {"length_m": 4, "width_m": chance.choice([0.05, 1.2, 30])}
    details["soil_texture"] = chance.choice(SOIL_TEXTURES)
    more: list[dict[str, Any]] = [
        {"field_capacity_percent": 32, "wilting_point_percent": chance.choice([12, 32, 31.9])},
        {"volume_l": chance.choice([0.1, 12, 40])},
        {"volume_l": 20, "across_m": 0.35},
        {"water_method": chance.choice(WATER_METHODS), "wetted_percent": 40},
        {"water_method": "drip"},
        {"flow_l_per_min": chance.choice([0.001, 2.5])},
        {"length_m": None, "across_m": 1},
    ]
    for _ in range(2):
        if chance.random() < 0.7:
            details |= chance.choice(more)
    return details


def _where(garden: RandomGarden) -> dict[str, Any]:
    return {} if garden.chance.random() < 0.9 else {"bed": garden.chance.choice(garden.beds)}


def _air(garden: RandomGarden) -> dict[str, Any]:
    low = garden.chance.choice([-20, 4, 11.5, 16, 21])
    high = low + garden.chance.choice([0, 8.5, 14, 24])
    return garden.chance.choice([{"low_c": low, "high_c": high}] * 6 + [{"low_c": low}])


def _rain(garden: RandomGarden) -> dict[str, Any]:
    return {"depth_mm": garden.chance.choice([0, 0, 0.4, 3, 12.5, 80])}


def _given(garden: RandomGarden) -> dict[str, Any]:
    chance = garden.chance
    return chance.choice(
        [
            {"volume_l": chance.choice([2, 20, 60, 400])},
            {"depth_mm": chance.choice([5, 25])},
            {"duration_min": 20, "flow_l_per_min": 3},
            {"duration_min": 30},
        ]
    )


def _cans(garden: RandomGarden) -> dict[str, Any]:
    chance = garden.chance
    count = chance.choice([3, 4, 7, 15])
    volumes = [chance.choice([0, 12, 38.5, 40, 44]) for _ in range(count)]
    speed = {"duration_min": 30, "can_area_cm2": 80} if chance.random() < 0.5 else {}
    return {"volumes_ml": volumes} | speed
