"""Random gardens: troubles of the soil, film over a bed, earlier seasons and crops side by side."""

from typing import TYPE_CHECKING, Any

from shedbook.crops.hosts import load_hosts
from shedbook.log.moment import day_text

if TYPE_CHECKING:
    from tests.unit.rules.gardens import RandomGarden

TROUBLES = (*load_hosts(), "moon_rot", "__proto__")
CROPS = (
    *("pepper", "tomato", "eggplant", "strawberry", "spinach", "pumpkin", "bean", "cabbage"),
    *("mustard", "onion", "sweet_corn", "wheat", "lettuce", "garlic", "carrot", "oca", "basil"),
)
DAY_S = 86_400


def add_place(garden: "RandomGarden") -> None:
    """Some earlier seasons in a bed, with what was seen there and what is planned next."""
    chance = garden.chance
    bed = chance.choice(garden.beds)
    for _ in range(chance.randint(1, 3)):
        _earlier_planting(garden, bed)
    for _ in range(chance.randint(1, 4)):
        _see(garden, bed)
    if chance.random() < 0.4:
        _lay_film(garden, bed)
    for _ in range(chance.randint(1, 2)):
        _planned(garden, bed)
    if chance.random() < 0.2:
        years = chance.choice([0, 1.5, 6, 1e12, -1])
        trouble = chance.choice(["phytophthora_blight", "root_knot", "verticillium_wilt"])
        garden.add("setting", {"thresholds": {f"soil_rest.{trouble}_years": years}})


def _instant(garden: "RandomGarden", least: int, most: int) -> int:
    """Some days before or after the middle of the garden's season."""
    day = garden.zone[0] + 60 + garden.chance.randint(least, most)
    return day * DAY_S + garden.chance.randrange(DAY_S)


def _planting(garden: "RandomGarden", bed: str, details: dict[str, Any], instant: int) -> str:
    planting = f"{garden.chance.getrandbits(64):016x}"
    details = {"crop": garden.chance.choice(CROPS), "plants": 4} | details
    subjects = {"planting": planting, "bed": bed}
    garden.add("planting", details, subjects, id=planting, instant=instant)
    return planting


def _earlier_planting(garden: "RandomGarden", bed: str) -> None:
    start = _instant(garden, -1800, -10)
    planting = _planting(garden, bed, {}, start)
    subjects = {"planting": planting, "bed": bed}
    garden.add("transplant", {}, subjects, instant=start)
    garden.plantings.append((planting, bed))
    if garden.chance.random() < 0.8:
        end = start // DAY_S + garden.chance.randint(20, 200)
        garden.add("planting", {"ended_on": day_text(end)}, subjects, instant=start)


def _see(garden: "RandomGarden", bed: str) -> None:
    chance = garden.chance
    trouble = chance.choice(TROUBLES)
    details, kind = chance.choice(
        [
            ({"trouble": trouble, "x_m": 0.4, "y_m": 0.2}, "spot"),
            ({"organism": trouble, "grade": chance.choice(["none", "few", "many"])}, "scout"),
            ({"organism": trouble, "count": chance.choice([0, 3])}, "scout"),
            ({"result": chance.choice(["sound", "suspect"]), "trouble": trouble}, "inspect"),
            ({"signs": ["wilting"], "suspected": trouble}, "signs"),
        ]
    )
    subjects: dict[str, Any] = {"bed": bed}
    own = [planting for planting, place in garden.plantings if place == bed]
    if own and chance.random() < 0.5:
        subjects["planting"] = chance.choice(own)
    garden.add(kind, details, subjects, instant=_instant(garden, -1500, 30))


def _lay_film(garden: "RandomGarden", bed: str) -> None:
    chance = garden.chance
    laid = _instant(garden, -60, 40)
    details = {"step": "laid"} | chance.choice(
        [
            {"planned_weeks": 5, "film": "clear"},
            {"film": "black"},
            {"planned_weeks": 2.5},
            {"planned_weeks": 1e9},
        ]
    )
    garden.add("solarise", details, {"bed": bed}, instant=laid)
    if chance.random() < 0.5:
        lifted = laid + chance.randint(1, 60) * DAY_S
        garden.add("solarise", {"step": "lifted"}, {"bed": bed}, instant=lifted)


def _planned(garden: "RandomGarden", bed: str) -> None:
    day = _instant(garden, -20, 500) // DAY_S
    planting = _planting(garden, bed, {"planned_on": day_text(day)}, _instant(garden, -20, 20))
    garden.plantings.append((planting, bed))
