"""The regular work of the season: water, feed, scouting, growth stages, pruning."""

from datetime import datetime
from typing import Any

from seed_demo.draft import HELPER, LEAD, Season
from seed_demo.place import (
    BEAN,
    BEDS,
    CHERRY,
    CROPS,
    CUCUMBER,
    EARLY,
    KALE,
    LETTUCE,
    MAIN,
    PEPPER,
    PLUM,
    SQUASH,
    UNEVEN_BED,
    Crop,
)
from seed_demo.weather import RAIN_MM, thirst_mm

# Of what short grass would take; most plants here stand close by now.
_CROP_SHARE = 0.9
_WET_MM = 5.0
# Days ago on which the wall bed was flooded, in the afternoon, after days without a drop.
_FLOODS = (64, 62, 57, 55, 49, 46, 40, 38, 34, 33, 27, 26, 20, 19, 13, 12, 6)
_PELLETS = {"product": "pelleted garden feed", "n_percent": 4, "p_percent": 3, "k_percent": 6}
# Which growth stages (BBCH, two digits) were written down how many days after planting out.
_STAGES = ((10, 15), (24, 51), (34, 61), (46, 71), (56, 81))
# Grown and looked at plant by plant.
_BY_PLANT = frozenset({"pepper", "tomato"})
# Boxes and tubs dry out in a day.
_EVERY_DAYS = {"container": 1, "raised": 1, "ground": 2}


def write_care(season: Season) -> None:
    """All that was done as it should be, and the wall bed's water, which was not."""
    for name, bed in BEDS.items():
        if name == UNEVEN_BED:
            _flood(season, name)
        else:
            _water(season, name, bed)
    _feed(season)
    for name in BEDS:
        edge = {"organism": "edge_weeds", "grade": "none"}
        season.tap(season.at(12, 18, 30), "scout", edge, bed=name, phone=HELPER)
    for crop in CROPS:
        _note_stages(season, crop)
        _scout(season, crop)
        _prune(season, crop)


def _area_m2(bed: dict[str, Any]) -> float:
    length, width = bed.get("length_m"), bed.get("width_m")
    return float(length * width) if length and width else 0.6


def _water(season: Season, name: str, bed: dict[str, Any]) -> None:
    every = _EVERY_DAYS[bed["type"]]
    first = max(crop.out for crop in CROPS if crop.bed == name)
    for days in range(first, 0, -1):
        if (days - 1) % every or RAIN_MM.get(days, 0) >= _WET_MM:
            continue
        # Nobody is there every morning; the last days are as they should be.
        if days > 4 and season.chance.random() < 0.08:
            continue
        mm = _CROP_SHARE * thirst_mm(season.at(days, 12).date())
        litres = season.near(_area_m2(bed) * mm * every, 0.15, 5 if every > 1 else 0.5)
        who = HELPER if season.chance.random() < 0.4 else LEAD
        at = season.at(days, 7, season.chance.randrange(5, 45))
        amount: dict[str, Any] = {"volume_l": litres}
        flow = bed.get("flow_l_per_min")
        if flow and days % 3 == 0:
            amount = {"duration_min": round(litres / flow), "flow_l_per_min": flow}
        season.tap(at, "water", {**amount, "method": bed["water_method"]}, bed=name, phone=who)


def _flood(season: Season, name: str) -> None:
    for days in _FLOODS:
        at = season.at(days, 15 + season.chance.randrange(4), season.chance.randrange(60))
        litres = season.near(170, 0.2, 10)
        season.tap(at, "water", {"volume_l": litres, "method": "hand"}, bed=name, phone=HELPER)


def _feed(season: Season) -> None:
    """Side-dressed at four and eight weeks, but for what the troubles leave out."""
    done = {EARLY: (28,), MAIN: (28,), PLUM: (28, 57), CHERRY: (29,), CUCUMBER: (28,)}
    done |= {SQUASH: (28,), KALE: (29,), LETTUCE: (27,), BEAN: (30,)}
    for crop, ages in done.items():
        for age in ages:
            amount = {**_PELLETS, "amount_g": 25.0 * crop.count}
            season.tap(
                season.at(crop.out - age, 18, 40),
                "feed",
                amount,
                bed=crop.bed,
                planting=crop.name,
            )
    half = {**_PELLETS, "amount_g": 25.0 * len(PEPPER.row(1))}
    season.tap(
        season.at(PEPPER.out - 28, 19),
        "feed",
        half,
        bed=PEPPER.bed,
        planting=PEPPER.name,
        plants=PEPPER.row(1),
        phone=HELPER,
    )


def _note_stages(season: Season, crop: Crop) -> None:
    for age, code in _STAGES:
        if age < crop.out:
            season.tap(
                season.at(crop.out - age, 18, 20),
                "stage",
                {"bbch": code},
                bed=crop.bed,
                planting=crop.name,
            )


def _scout(season: Season, crop: Crop) -> None:
    """Once a week, some crops plant by plant; a look that finds nothing is written down too."""
    organism = "cabbage_caterpillars" if crop.crop == "kale" else "aphids"
    last = 2 + crop.count % 4
    for days in range(crop.out - 7 - (crop.out - last) % 7, last - 1, -7):
        looks: list[tuple[int, ...]] = [()]
        if crop.crop in _BY_PLANT:
            looks = [(plant,) for plant in sorted(season.chance.sample(range(1, crop.count), 4))]
        for nth, plants in enumerate(looks):
            _look(season, crop, season.at(days, 10, 5 * nth), organism, plants)


def _look(season: Season, crop: Crop, at: datetime, organism: str, plants: tuple[int, ...]) -> None:
    hit = 1 if season.chance.random() < 0.2 else 0
    found = {
        "organism": organism,
        "count": hit * season.chance.randrange(1, 5),
        "grade": "few" if hit else "none",
    }
    if not plants:
        found |= {"plants_looked": min(crop.count, 12), "plants_affected": hit}
    season.tap(
        at,
        "scout",
        found,
        bed=crop.bed,
        planting=crop.name,
        plants=plants,
        phone=HELPER if season.chance.random() < 0.4 else LEAD,
    )


def _prune(season: Season, crop: Crop) -> None:
    if crop.crop not in _BY_PLANT:
        return
    for days in range(crop.out - 18, 1, -8):
        for row in range(1, crop.rows + 1):
            season.tap(
                season.at(days, 17, 10 + 12 * row),
                "prune",
                {"part": "suckers"},
                bed=crop.bed,
                planting=crop.name,
                plants=crop.row(row),
                phone=HELPER,
            )
