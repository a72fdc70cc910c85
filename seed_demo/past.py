"""The garden's making and its three earlier seasons: enough for a rotation to be judged."""

from typing import Any

from seed_demo.draft import Ref, Season
from seed_demo.place import (
    BEDS,
    ELEVATION_M,
    GARDEN_NAME,
    LATITUDE_DEG,
    LONGITUDE_DEG,
    NEW_THIS_YEAR,
    PAST_CROPS,
    PastCrop,
)

_YEAR = 365
# Planting-out days of the past seasons lie this far before the same day of their year.
_OUT = 100
_MADE = 3 * _YEAR + 210
_NEIGHBOURS = (("South box", "Herb box"), ("Gate bed", "Long bed"))


def write_past(season: Season, zone: str) -> None:
    """Beds, settings, and what grew where in the last three years."""
    _make_garden(season, zone)
    for name in BEDS:
        made = 120 if name in NEW_THIS_YEAR else _MADE
        season.tap(season.at(made, 10), "bed", {"name": name, **BEDS[name]}, bed=name, label=name)
    for one, other in _NEIGHBOURS:
        season.tap(season.at(_MADE, 11), "bed", {"beside": [Ref(other)]}, bed=one)
    walk: dict[str, Any] = {"walk_order": [Ref(name) for name in BEDS]}
    season.tap(season.at(119, 18), "setting", walk)
    for past in PAST_CROPS:
        _write_past_crop(season, past)


def _make_garden(season: Season, zone: str) -> None:
    season.tap(season.at(_MADE, 9), "garden", {"name": GARDEN_NAME})
    place: dict[str, Any] = {
        "latitude_deg": LATITUDE_DEG,
        "longitude_deg": LONGITUDE_DEG,
        "elevation_m": ELEVATION_M,
        "zone": zone,
        "last_frost": season.date_text(80)[5:],
        "first_frost": season.date_text(-100)[5:],
        "region": "europe",
        "stale_after_hours": 24,
    }
    season.tap(season.at(_MADE, 9, 5), "setting", place)


def _write_past_crop(season: Season, past: PastCrop) -> None:
    out = past.years_ago * _YEAR + _OUT
    label = f"{past.variety} {past.crop} {past.years_ago}"
    where: dict[str, Any] = {"bed": past.bed, "planting": label}
    chance = season.chance
    season.tap(
        season.at(out, 9, chance.randrange(60)),
        "planting",
        {
            "crop": past.crop,
            "variety": past.variety,
            "plants": past.count,
            "planned_on": season.date_text(out),
        },
        bed=past.bed,
        planting=label,
        label=label,
    )
    season.tap(season.at(out, 10, chance.randrange(60)), "transplant", {}, **where)
    for nth in range(2):
        picked = out - past.days * (6 + 3 * nth) // 10
        mass = season.near(past.count * 90.0, 0.3, 10)
        season.tap(season.at(picked, 11, chance.randrange(60)), "pick", {"mass_g": mass}, **where)
    ended = out - past.days
    season.tap(
        season.at(ended, 16, chance.randrange(60)),
        "planting",
        {"ended_on": season.date_text(ended)},
        planting=label,
    )
