"""Random raising, spacing and hygiene, with days and figures on both sides of every limit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from shedbook.log.moment import day_text

if TYPE_CHECKING:
    from tests.unit.rules.gardens import RandomGarden

DAY_S = 86_400
CROPS = ("pepper", "pepper", "pepper", "tomato", "eggplant", "cucumber", "oca")
BED_TYPES = ("ground", "raised", "container", "container", None)
HOURS = (None, 0.5, 1, 2, 4, 10)
# Often enough of each for every limit of the rows to be broken, met and missing.
WORK: tuple[tuple[str, dict[str, tuple[Any, ...]]], ...] = (
    ("sow", {"place": ("tray", "tray", "pot", "direct"), "soil_c": (None, 12.6, 12.7, 20, 33)}),
    ("stage", {"leaf_count": (1, 2, 4, 5, 6, 9, 10)}),
    ("stage", {"leaf_count": (2, 4, 7)}),
    ("thin", {}),
    ("pot_on", {}),
    ("inspect", {"result": ("sound", "suspect", "suspect")}),
    ("transplant", {"soil_c": (None, 11, 15, 17.9, 21)}),
    (
        "seed_treatment",
        {
            "method": ("hot_water", "hot_water", "other"),
            "water_c": (None, 49.4, 50, 51, 52.5),
            "duration_min": (None, 20, 25, 28, 31),
            "seed_form": (None, "plain", "old", "pelleted"),
            "trial_germinated": (None, None, 8),
        },
    ),
    ("stake", {"ties": (None, "loose", "tight")}),
    (
        "mulch",
        {
            "material": ("straw", "wood_chips", "film", None),
            "film_colour": (None, "black", "clear"),
        },
    ),
    ("signs", {"signs": (["wilt"],)}),
    ("clean", {"what": ("hands", "tools")}),
    ("pick", {"overripe_left": (None, 0, 3)}),
    ("remove_plant", {"cause": ("disease", "insect", "weak"), "route": (None, "compost", "bin")}),
    ("discard", {"cause": ("disease", "cracked"), "route": ("compost", "bin", None)}),
    ("feed", {"placement": ("side", None)}),
    ("water", {"volume_l": (5,), "method": ("overhead", "drip", None)}),
    ("weed", {}),
    ("scout", {"organism": ("edge_weeds", "aphids"), "grade": ("none",)}),
)
WEATHER: tuple[tuple[str, dict[str, tuple[Any, ...]]], ...] = (
    ("soil_temperature", {"temperature_c": (9, 14.9, 15, 17, 18, 31, 34, 41)}),
    ("air_temperature", {"low_c": (None, 4, 9.9, 10, 15.4, 16, 19), "high_c": (24,)}),
    ("forecast", {"low_c": (3, 12, 18)}),
    ("leaf_wetness", {"wet": (True, False)}),
    ("rain", {"depth_mm": (1, 2, 9)}),
)


def add_raising(garden: RandomGarden) -> int:
    """A planting with a planned day, and work and weather around it; an instant near that day."""
    chance = garden.chance
    planned = garden._instant() // DAY_S
    bed, planting = _make(garden, planned)
    here = {"bed": bed, "planting": planting}
    for _ in range(chance.randint(2, 12)):
        kind, choices = chance.choice(WORK)
        instant = (planned + chance.choice([-70, -60, -20, -3, 0, 3, 15, 40])) * DAY_S
        about = here if chance.random() < 0.8 else here | {"plants": [1, 2]}
        if kind == "mulch" and chance.random() < 0.5:
            about = {"bed": bed}
        instant += chance.randrange(DAY_S)
        garden.add(kind, _details(garden, choices), about, instant=instant)
    for _ in range(chance.randint(0, 8)):
        kind, choices = chance.choice(WEATHER)
        about = chance.choice([{}, {"bed": bed}, here])
        about = {} if kind in ("rain", "forecast") else about
        instant = (planned + chance.randrange(-5, 6)) * DAY_S + chance.randrange(DAY_S)
        garden.add(kind, _details(garden, choices), about, instant=instant)
    _harden(garden, here, planned)
    luck = chance.random()
    if luck < 0.3:
        _right_after(garden, here, planned)
    elif luck < 0.6:
        return _measured(garden, here, planned)
    near = planned + chance.choice([-75, -63, -20, -14, -9, -4, -2, 0, 1, 4, 10, 28, 45])
    return near * DAY_S + chance.randrange(DAY_S)


def _make(garden: RandomGarden, planned: int) -> tuple[str, str]:
    chance = garden.chance
    bed, planting = garden._id(), garden._id()
    place = {
        "name": "Raising",
        "type": chance.choice(BED_TYPES),
        "across_m": chance.choice([None, 0.3, 0.35]),
        "drains": chance.choice([None, True, False]),
    }
    garden.add("bed", place, {"bed": bed}, id=bed)
    details = {
        "crop": chance.choice(CROPS),
        "plants": chance.choice([1, 1, 4]),
        "in_row_m": chance.choice([None, 0.25, 0.3, 0.5]),
        "between_rows_m": chance.choice([None, 0.3, 0.6, 0.9]),
    }
    if chance.random() < 0.8:
        details["planned_on"] = day_text(planned)
    if chance.random() < 0.3:
        frost = chance.choice([day_text(planned)[5:], "02-29", "13-01", 5])
        garden.add("setting", {"last_frost": frost})
    garden.add("planting", details, {"bed": bed, "planting": planting}, id=planting)
    garden.beds.append(bed)
    garden.plantings.append((planting, bed))
    return bed, planting


def _harden(garden: RandomGarden, here: dict[str, str], planned: int) -> None:
    """Some days outside, with gaps, two on one day, and cold ones."""
    chance = garden.chance
    if chance.random() < 0.5:
        return
    garden.add("sow", {"place": "tray"}, here, instant=(planned - 60) * DAY_S)
    day = planned - 12
    for _ in range(chance.randint(1, 10)):
        day += chance.choice([0, 1, 1, 1, 2])
        details = {"hours_outside": chance.choice(HOURS), "low_c": chance.choice([None, 5, 10])}
        details = {name: value for name, value in details.items() if value is not None}
        garden.add("harden", details, here, instant=day * DAY_S + chance.randrange(DAY_S))
    if chance.random() < 0.4:
        garden.add("transplant", {}, here, instant=planned * DAY_S + 3600)


def _right_after(garden: RandomGarden, here: dict[str, str], planned: int) -> None:
    """Planted out, and within days mulched, and sick plants taken out."""
    out = planned * DAY_S + garden.chance.randrange(DAY_S)
    garden.add("transplant", {}, here, instant=out)
    garden.add("mulch", {"material": "straw"}, here, instant=out + DAY_S)
    sick = {"cause": "disease", "route": garden.chance.choice(["compost", "burned"])}
    garden.add("remove_plant", sick, here | {"plants": [1]}, instant=out + DAY_S)


def _measured(garden: RandomGarden, here: dict[str, str], planned: int) -> int:
    """What decides about sowing and planting out, two days before; the next day."""
    at = (planned - 2) * DAY_S + garden.chance.randrange(DAY_S)
    for kind, about in (
        ("soil_temperature", {"bed": here["bed"]}),
        ("air_temperature", {}),
        ("stage", here),
    ):
        choices = dict((*WORK, *WEATHER))[kind]
        garden.add(kind, _details(garden, choices), about, instant=at)
    return at + DAY_S


def _details(garden: RandomGarden, choices: dict[str, tuple[Any, ...]]) -> dict[str, Any]:
    picked = {name: garden.chance.choice(values) for name, values in choices.items()}
    return {name: value for name, value in picked.items() if value is not None}
