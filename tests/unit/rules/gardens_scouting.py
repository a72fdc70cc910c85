"""Plants looked over, traps read and plants taken out, in a random garden."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tests.unit.rules.gardens import RandomGarden

DAY_S = 86_400
ORGANISMS = (
    "aphids",
    "aphids",
    "european_corn_borer",
    "lady_beetles",
    "flea_beetle",
    "bacterial_spot",
    "own bug",
)


def add_scouting(garden: "RandomGarden") -> None:
    """A few rounds close together, and thresholds of one's own now and then."""
    chance = garden.chance
    start = garden.now - chance.randrange(20 * DAY_S)
    organism = chance.choice(ORGANISMS)
    for _ in range(chance.randint(2, 7)):
        subjects = garden._subjects()
        instant = start + chance.choice([chance.randrange(DAY_S), chance.randrange(18 * DAY_S)])
        name = organism if chance.random() < 0.7 else chance.choice(ORGANISMS)
        chosen = chance.random()
        if chosen < 0.65:
            garden.add("scout", {"organism": name} | _found(garden), subjects, instant=instant)
        elif chosen < 0.85:
            placed = {} if chance.random() < 0.4 else subjects
            garden.add("trap_read", {"organism": name} | _caught(garden), placed, instant=instant)
        elif chosen < 0.93:
            trap = {"trap": "Door", "trap_kind": chance.choice(["light", "pheromone"])}
            placed = {} if chance.random() < 0.4 else subjects
            garden.add("trap_set", trap, placed, instant=instant - 3 * DAY_S)
        else:
            cause = {"cause": chance.choice(["disease", "insect", "weak"])}
            garden.add("remove_plant", cause, subjects, instant=instant)
    if chance.random() < 0.6:
        chosen_limit = chance.choice([0, 0.02, 0.15, 0.5, 1, 4])
        thresholds = {
            f"scout_threshold.{organism}": chosen_limit,
            f"catch_threshold.{organism}": chosen_limit,
            "scouting.band": chance.choice([0.5, 0.25, 3]),
            "scouting.most_looked": chance.choice([0, 12, 100]),
        }
        garden.add("setting", {"thresholds": thresholds})


def _found(garden: "RandomGarden") -> dict[str, Any]:
    chance = garden.chance
    looked = chance.choice([1, 4, 6, 20, 60])
    details: dict[str, Any] = chance.choice([{}, {"per": "leaf"}, {"per": "plant"}, {"per": "bud"}])
    chosen = chance.randrange(5)
    if chosen == 0:
        return details | {"counts": [chance.choice([0, 0, 1, 3, 40]) for _ in range(looked)]}
    if chosen == 1:
        return details | {"plants_looked": looked, "count": chance.choice([0, 1, 17])}
    if chosen == 2:
        return details | {"grade": chance.choice(["none", "few", "many"])}
    affected = chance.randint(0, looked)
    return details | {"plants_looked": looked, "plants_affected": affected}


def _caught(garden: "RandomGarden") -> dict[str, Any]:
    chance = garden.chance
    nights = chance.choice([{}, {"nights": 1}, {"nights": 3}, {"nights": 7}, {"nights": 0.5}])
    return {"trap": chance.choice(["Door", "Gate"]), "count": chance.choice([0, 1, 4, 30])} | nights
