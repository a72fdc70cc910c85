"""Lots put into stores, looked over and taken out, in a random garden."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tests.unit.rules.gardens import RandomGarden


def add_keeping(garden: "RandomGarden") -> None:
    """A few entries of one or two places, with and without a planting."""
    chance = garden.chance
    for _ in range(chance.randint(1, 5)):
        details: dict[str, Any] = {"place": chance.choice(["Cellar", "Attic"])}
        details |= chance.choice([{}, {"count": chance.choice([0, 3, 10])}, {"mass_g": 500.5}])
        details |= chance.choice([{}, {"step": "out"}, {"step": "in"}, {"step": "check"}])
        if chance.random() < 0.7:
            details["temperature_c"] = chance.choice([-3, 0, 6.99, 7, 8.5, 10, 25])
        if chance.random() < 0.3:
            details["humidity_percent"] = chance.choice([40, 90, 95])
        if chance.random() < 0.2:
            details["form"] = chance.choice(["pickled", "dried"])
        planting, _ = chance.choice(garden.plantings)
        subjects = {} if chance.random() < 0.3 else {"planting": planting}
        garden.add("store", details, subjects)
