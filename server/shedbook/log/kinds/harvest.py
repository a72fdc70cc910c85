"""Kinds of what came of it: picked, stored, thrown away."""

from shedbook.log.kinds.making import (
    A_PLANTING,
    ANY_PLACE,
    NO_PLANTS,
    Kind,
    Work,
    choice,
    count,
    number,
    text,
)

MOST_FRUITS = 1_000_000
HEAVIEST_G = 10_000_000


class Pick(Work):
    """Fruit taken from the plants."""

    kind_name = "pick"
    at_least_one = (("count", "mass_g"),)
    # Before the field that bears the name of its maker.
    overripe_left = count(0, MOST_FRUITS, above=1000)
    count = count(1, MOST_FRUITS, primary=True, above=10_000)
    mass_g = number("g", 0.1, HEAVIEST_G, step=10, primary=True, above=500_000)
    grade = choice("first", "second", "cull", primary=True)


class Discard(Work):
    """Fruit thrown away, and why."""

    kind_name = "discard"
    at_least_one = (("count", "mass_g"),)
    count = count(1, MOST_FRUITS, primary=True, above=10_000)
    mass_g = number("g", 0.1, HEAVIEST_G, step=10, above=500_000)
    cause = choice(
        "blossom_end_rot",
        "sunscald",
        "insect",
        "disease",
        "animal",
        "cracked",
        "overripe",
        "other",
        primary=True,
    )
    route = choice("compost", "bin", "burned", "buried", "fed", "other")


class Store(Work):
    """Fruit put into a store, or the state of that store."""

    kind_name = "store"
    at_least_one = (("count", "mass_g", "temperature_c", "humidity_percent"),)
    place = text(60, required=True, primary=True)
    step = choice("in", "out", "check", primary=True)
    form = choice("fresh", "dried", "frozen", "pickled", "in_oil")
    count = count(1, MOST_FRUITS, primary=True, above=100_000)
    mass_g = number("g", 0.1, HEAVIEST_G, step=100, primary=True, above=2_000_000)
    temperature_c = number("°C", -40, 60, step=0.5, below=0, above=35)
    humidity_percent = number("%", 0, 100, step=1, below=20)


KINDS = (
    Kind(Pick, "work", A_PLANTING, hand_work=True),
    Kind(Discard, "work", ANY_PLACE, hand_work=True),
    Kind(Store, "work", NO_PLANTS),
)
