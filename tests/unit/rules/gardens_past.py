"""Earlier years of a random garden: crops that ended long ago or lately, and one that grows on.

Most of their work is routine and older than the rules look back; some lies near the day on which it
goes out of sight, and some stays for ever.
"""

from typing import TYPE_CHECKING, Any

from shedbook.log.moment import day_text

if TYPE_CHECKING:
    from tests.unit.rules.gardens import RandomGarden

DAY_S = 86_400
YEAR_DAYS = 365
MOST_YEARS = 6
# Some five months before the earliest day on which a garden is asked.
EARLIEST_DAYS = 250
ROUTINE: tuple[tuple[str, dict[str, Any]], ...] = (
    ("water", {"volume_l": 9}),
    ("water", {"volume_l": 9, "method": "overhead"}),
    ("weed", {}),
    ("prune", {}),
    ("pick", {"count": 4}),
    ("pick", {"count": 4, "overripe_left": 2}),
    ("stake", {"ties": "tight"}),
    ("mulch", {"material": "straw"}),
    ("stage", {"leaf_count": 9}),
    ("note", {"text": "dry"}),
    ("discard", {"count": 1, "cause": "blossom_end_rot"}),
    ("scout", {"organism": "aphids", "plants_looked": 9, "plants_affected": 3}),
    ("rain", {"depth_mm": 9}),
)
LASTING: tuple[tuple[str, dict[str, Any]], ...] = (
    ("scout", {"organism": "root_knot", "plants_looked": 9, "plants_affected": 3}),
    ("scout", {"organism": "verticillium_wilt", "grade": "few"}),
    ("inspect", {"result": "suspect", "trouble": "southern_blight"}),
    ("feed", {"origin": "raw_manure", "product": "manure"}),
    ("treat", {"method": "product", "product": "Copper", "hours_to_reentry": 48}),
    ("treat", {"method": "product", "product": "Copper", "days_to_harvest": 900}),
    ("store", {"step": "in", "count": 3}),
    ("solarise", {"step": "laid"}),
)


def add_past(garden: "RandomGarden") -> None:
    """One or more plantings of earlier years in one bed, with what was done to them and the bed."""
    chance, bed = garden.chance, garden.chance.choice(garden.beds)
    for _ in range(chance.randint(1, 3)):
        ago = chance.choice([1, 1, chance.randint(2, MOST_YEARS)]) * YEAR_DAYS
        first = garden.season_start - ago + chance.randrange(60)
        planting = _make_planting(garden, bed, first)
        for _ in range(chance.randint(4, 16)):
            lasts = chance.random() < 0.25
            kind, details = chance.choice(LASTING if lasts else ROUTINE)
            instant = (first + chance.randrange(EARLIEST_DAYS)) * DAY_S + chance.randrange(DAY_S)
            garden.add(kind, details, _place(garden, kind, bed, planting), instant=instant)


def _make_planting(garden: "RandomGarden", bed: str, first: int) -> str:
    """A planting that came on this day; most end in the same year."""
    chance = garden.chance
    planting = f"{chance.getrandbits(64):016x}"
    here = {"bed": bed, "planting": planting}
    details: dict[str, Any] = {"crop": chance.choice(["pepper", "tomato", "cabbage", "bean"])}
    last = first + chance.randrange(100, EARLIEST_DAYS)
    end = chance.random()
    if end < 0.6:
        details["ended_on"] = day_text(last)
    made = first * DAY_S
    garden.add("planting", details, here, id=planting, instant=made)
    if chance.random() < 0.8:
        garden.add("transplant", {}, here, instant=made + 3600)
    if 0.6 <= end < 0.85:
        garden.add("remove_plant", {"cause": "season_over"}, here, instant=last * DAY_S)
    return planting


def _place(garden: "RandomGarden", kind: str, bed: str, planting: str) -> dict[str, Any]:
    if kind in ("rain", "solarise"):
        return {"bed": bed}
    if kind in ("pick", "stage", "inspect", "store"):
        return {"bed": bed, "planting": planting}
    whole, plants = {"bed": bed}, {"planting": planting}
    return garden.chance.choice([whole, whole, plants, whole | plants, whole | plants])
