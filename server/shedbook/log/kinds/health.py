"""Kinds of watching for trouble and of treating it."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import (
    ANY_PLACE,
    ANYTHING,
    MOST_PLANTS,
    Kind,
    Work,
    choice,
    count,
    field,
    number,
    text,
)


class Scout(Work):
    """Plants looked over for one organism, found or not."""

    kind_name = "scout"
    at_least_one = (("plants_affected", "count", "grade"),)
    not_above = (("plants_affected", "plants_looked"),)
    needs = (("plants_affected", "plants_looked"),)
    organism = text(80, required=True, primary=True)
    grade = choice("none", "few", "some", "many", primary=True)
    plants_looked = count(1, MOST_PLANTS, primary=True)
    plants_affected = count(0, MOST_PLANTS, primary=True)
    count = count(0, 1_000_000, above=10_000)


class Treat(Work):
    """A treatment, with what its label says about harvest and re-entry."""

    kind_name = "treat"
    not_above = (("started_at", "ended_at"),)
    needs = (("total_amount", "total_unit"),)
    method = choice(
        "product", "water_jet", "home_mixture", "hand_picking", required=True, primary=True
    )
    mixture = choice("soap", "oil", "other")
    product = text(primary=True)
    registration_number = text(60)
    active_ingredient = text()
    target = text(80, primary=True)
    days_to_harvest = number("days", 0, 365, step=1, primary=True, above=120)
    hours_to_reentry = number("hours", 0, 2160, step=1, primary=True, above=168)
    total_amount = number(None, 0.001, 1_000_000, step=1)
    total_unit = choice("mL", "L", "g", "kg")
    area_m2 = number("m²", 0.01, 1_000_000, step=1, above=100_000)
    operator = text(80)
    started_at = field(f.MomentField)
    ended_at = field(f.MomentField)


class TrapSet(Work):
    """A trap hung or put out."""

    kind_name = "trap_set"
    trap = text(60, required=True, primary=True)
    trap_kind = choice("yellow_card", "blue_card", "pheromone", "light", "pitfall", "other")
    organism = text(80, primary=True)


class TrapRead(Work):
    """What a trap caught, and over how many nights."""

    kind_name = "trap_read"
    trap = text(60, required=True, primary=True)
    organism = text(80, primary=True)
    count = count(0, 1_000_000, required=True, primary=True, above=10_000)
    nights = number("nights", 0.5, 365, step=1, above=60)


KINDS = (
    Kind(Scout, "work", ANY_PLACE, hand_work=True),
    Kind(Treat, "work", ANY_PLACE),
    Kind(TrapSet, "work", ANYTHING, hand_work=True),
    Kind(TrapRead, "work", ANYTHING, hand_work=True),
)
