"""Entries as a grower writes them over a season: many kinds, most about a planting, a few figures.

The same seed gives the same kinds, places and figures; ids and days move with the clock, since a
phone's entries do. One is about 510 bytes of JSON: the envelope alone has five ids.
"""

import json
import random
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from shedbook.log.identity import new_id
from shedbook.log.moment import moment_text
from tests.api.builders import Phone

Entry = dict[str, Any]
Figures = dict[str, Any]

SEASON_DAYS = 200
OFFSET_MINUTES = 120
SEED = 4


@dataclass(frozen=True)
class Places:
    """Where the work is done: beds, and plantings with the bed each stands in."""

    beds: Sequence[str]
    plantings: Sequence[tuple[str, str]]


def _a_day_and_night(dice: random.Random) -> Figures:
    low_c = dice.randint(4, 20)
    return {"low_c": low_c, "high_c": low_c + dice.randint(2, 14)}


# (how often, kind, what it is about, its figures); the shares are those of tending peppers by hand.
Habit = tuple[int, str, str, Callable[[random.Random], Figures]]
HABITS: tuple[Habit, ...] = (
    (22, "water", "planting", lambda dice: {"volume_l": dice.randint(2, 40), "method": "hand"}),
    (18, "pick", "planting", lambda dice: {"count": dice.randint(1, 30)}),
    (
        12,
        "scout",
        "planting",
        lambda dice: {
            "organism": "aphids",
            "plants_looked": 10,
            "plants_affected": dice.randint(0, 9),
        },
    ),
    (8, "air_temperature", "garden", _a_day_and_night),
    (8, "rain", "garden", lambda dice: {"depth_mm": dice.randint(0, 300) / 10}),
    (
        7,
        "feed",
        "planting",
        lambda dice: {"product": "Comfrey", "amount_ml": dice.randint(50, 900)},
    ),
    (6, "weed", "bed", lambda dice: {"tool": "hoe", "duration_min": dice.randint(5, 60)}),
    (5, "prune", "planting", lambda _: {"part": "suckers"}),
    (5, "note", "bed", lambda dice: {"text": f"Row {dice.randint(1, 9)} still damp at noon."}),
    (4, "stage", "planting", lambda dice: {"leaf_count": dice.randint(2, 30)}),
    (3, "stake", "planting", lambda _: {"support": "string", "ties": "loose"}),
    (2, "discard", "planting", lambda dice: {"count": dice.randint(1, 5), "cause": "sunscald"}),
)


def a_garden_of(phone: Phone, beds: int, plantings: int) -> tuple[Places, list[Entry]]:
    """Places for the entries to be about, and the entries that make them, to be pushed first."""
    made_beds = [phone.bed(name=f"Bed {number}") for number in range(1, beds + 1)]
    bed_ids = [entry["id"] for entry in made_beds]
    placed = [bed_ids[place % beds] for place in range(plantings)]
    made_plantings = [phone.planting(bed) for bed in placed]
    plantings_in = [(entry["id"], bed) for entry, bed in zip(made_plantings, placed, strict=True)]
    return Places(bed_ids, plantings_in), [*made_beds, *made_plantings]


def season_of(phone: Phone, places: Places, count: int, seed: int = SEED) -> list[Entry]:
    """The next `count` entries of a phone, spread evenly over the season that ends now."""
    dice = random.Random(seed)
    ends = int(time.time())
    starts = ends - SEASON_DAYS * 86400
    weights = [habit[0] for habit in HABITS]
    entries = []
    for place, habit in enumerate(dice.choices(HABITS, weights, k=count)):
        _, kind, about, figures = habit
        instant = starts + (ends - starts) * place // count
        entry = phone.entry(kind, figures(dice), _subjects(dice, about, places))
        entries.append(
            entry
            | {
                "id": new_id(instant * 1000 + place % 1000, dice.randbytes(10)),
                "happened_at": moment_text(instant, OFFSET_MINUTES),
                "recorded_at": moment_text(instant + 5, OFFSET_MINUTES),
            }
        )
    return entries


def json_text(value: Any) -> str:
    """JSON as a phone and the log write it."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def mean_bytes(entries: Sequence[Entry]) -> float:
    """The length of an entry's JSON."""
    return sum(len(json_text(entry).encode()) for entry in entries) / len(entries)


def _subjects(dice: random.Random, about: str, places: Places) -> dict[str, str]:
    if about == "garden":
        return {}
    if about == "bed":
        return {"bed": dice.choice(places.beds)}
    planting, bed = dice.choice(places.plantings)
    return {"planting": planting, "bed": bed}
