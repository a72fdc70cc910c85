"""Feeding and treating in a random garden: grades and measures left out or absurd, raw manure
before and after planting, products used again and again, and what lies around a treatment.
"""

from typing import TYPE_CHECKING, Any

from shedbook.log.moment import day_number, day_text

if TYPE_CHECKING:
    from tests.unit.rules.gardens import RandomGarden

Entry = dict[str, Any]

PLANNED = day_number(2026, 6, 8)
MATERIALS = ("ammonium_nitrate", "mixed", "urea", "compost", "other")
ORIGINS = ("mineral", "compost", "composted_manure", "raw_manure", "other")


def add_feeding(garden: "RandomGarden") -> None:
    """Some feeds, some treatments of few products, and weather and stages between them."""
    chance = garden.chance
    _measure(garden)
    _plan(garden)
    for _ in range(chance.randint(1, 4)):
        garden.add("feed", _feed(garden), garden._subjects())
    subjects, instant = garden._subjects(), garden._instant()
    for _ in range(chance.randint(1, 4)):
        garden.add("treat", _treat(garden), subjects, instant=instant)
        _around(garden, subjects, instant)
        instant += chance.choice([1, 3, 7, 12]) * 86_400
    if chance.random() < 0.5:
        cause = chance.choice(["blossom_end_rot", "insect"])
        garden.add("discard", {"count": 1, "cause": cause}, subjects)
    if chance.random() < 0.3:
        limits = {
            "season_nitrogen.high_kg_per_ha": chance.choice([0, 60, 1e300]),
            "manure_wait.span_days": chance.choice([0, 100.5, 400]),
            "other_group.most_in_row": chance.choice([0, 2]),
            "rain_after.unknown_hours": chance.choice([0, 48]),
        }
        garden.add("setting", {"thresholds": limits})


def _measure(garden: "RandomGarden") -> None:
    """A bed of a known size, and plants at known distances, each sometimes."""
    chance = garden.chance
    if chance.random() < 0.7:
        bed = chance.choice(garden.beds)
        size = {"length_m": chance.choice([3, 0.1]), "width_m": chance.choice([1.2, 3])}
        garden.add("bed", size, {"bed": bed})
    if chance.random() < 0.5:
        planting, _ = chance.choice(garden.plantings)
        apart = {"in_row_m": chance.choice([0.45, 0.01]), "between_rows_m": 0.6}
        garden.add("planting", apart, {"planting": planting})


def _plan(garden: "RandomGarden") -> None:
    """Peppers that are to go out near the days that most gardens are looked at."""
    if garden.chance.random() < 0.3:
        planned = day_text(PLANNED + garden.chance.randrange(-10, 20))
        made, bed = garden._id(), garden.chance.choice(garden.beds)
        subjects = {"planting": made, "bed": bed}
        garden.add("planting", {"crop": "pepper", "planned_on": planned}, subjects, id=made)


def _feed(garden: "RandomGarden") -> Entry:
    chance = garden.chance
    details: Entry = {
        "origin": chance.choice(ORIGINS),
        "placement": chance.choice(["side", "leaf"]),
    }
    if chance.random() < 0.8:
        details["n_percent"] = chance.choice([0, 10, 21.5, 34, 100])
    if chance.random() < 0.5:
        details["amount_g"] = chance.choice([0.1, 40, 900, 1_000_000])
    if chance.random() < 0.5:
        details["amount_ml"] = chance.choice([15, 946.3, 1_000_000])
        details["material"] = chance.choice(MATERIALS)
    if chance.random() < 0.2:
        details["area_m2"] = chance.choice([0.01, 9, 1_000_000])
    if chance.random() < 0.2:
        details["depth_mm"] = 50
    return details


def _treat(garden: "RandomGarden") -> Entry:
    chance = garden.chance
    details: Entry = {"method": chance.choice(["product", "product", "home_mixture"])}
    if details["method"] == "home_mixture":
        return details | {"mixture": chance.choice(["soap", "oil"])}
    details["product"] = chance.choice(["leaf dust", "leaf dust", "oil"])
    for name, values in (
        ("most_per_season", [1, 2, 3]),
        ("interval_days", [0, 5, 7.5]),
        ("rain_wait_hours", [0, 4, 24]),
        ("harms_bees", [True, False]),
        ("broad", [True, False]),
        ("action_group", ["4A", "4A", "28"]),
        ("days_to_harvest", [0, 3]),
        ("hours_to_reentry", [4]),
    ):
        if chance.random() < 0.6:
            details[name] = chance.choice(values)
    if "action_group" in details:
        details["action_scheme"] = chance.choice(["irac", "irac", "frac"])
    return details


def _around(garden: "RandomGarden", subjects: Entry, instant: int) -> None:
    """Rain, heat, bloom and counts near a treatment, before or after it."""
    chance = garden.chance
    near = instant + chance.choice([-100, -30, -1, 0, 1, 4, 20, 30]) * 3_600
    kind, details, where = chance.choice(
        [
            ("rain", {"depth_mm": chance.choice([1, 2, 9])}, {}),
            ("air_temperature", {"high_c": chance.choice([31.9, 32, 36])}, {}),
            ("air_temperature", {"low_c": 12}, {}),
            ("stage", {"first_bloom": chance.choice([True, False])}, subjects),
            ("stage", {"bbch": chance.choice([51, 61, 69, 71])}, subjects),
            (
                "scout",
                {"organism": "x", "count": 1, "helpful": chance.choice([True, False])},
                subjects,
            ),
            ("water", {"volume_l": 9}, subjects),
            ("pick", {"count": 2}, subjects),
        ]
    )
    garden.add(kind, details, where, instant=near)
