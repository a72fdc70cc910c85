"""Kinds of watching for trouble and of treating it."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import (
    A_PLANTING,
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
    work_on,
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
    counts = field(f.NumberListField)
    per = choice("plant", "leaf", "fruit", "bud")
    helpful = field(f.BooleanField)


class Inspect(Work):
    """Raised plants looked over before they go out."""

    kind_name = "inspect"
    result = choice("sound", "suspect", required=True, primary=True)
    trouble = text(80, primary=True)


class Signs(Work):
    """Signs seen on plants, and what they were taken for."""

    kind_name = "signs"
    signs = field(f.NameListField, required=True, primary=True)
    suspected = text(80, primary=True)


class Spot(Work):
    """A place in a bed where a trouble that stays in the soil was seen."""

    kind_name = "spot"
    trouble = text(80, required=True, primary=True)
    x_m = number("m", 0, 2000, step=0.1)
    y_m = number("m", 0, 2000, step=0.1)


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
    action_scheme = choice("irac", "frac", "other")
    action_group = text(12)
    most_per_season = count(1, 50, above=12)
    interval_days = number("days", 0, 90, step=1, above=45)
    rain_wait_hours = number("hours", 0, 168, step=1, above=72)
    harms_bees = field(f.BooleanField)
    broad = field(f.BooleanField)
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
    Kind(Inspect, "work", A_PLANTING, hand_work=True),
    Kind(Signs, "work", ANY_PLACE),
    Kind(Spot, "work", work_on("required", "optional", "optional")),
    Kind(Treat, "work", ANY_PLACE),
    Kind(TrapSet, "work", ANYTHING, hand_work=True),
    Kind(TrapRead, "work", ANYTHING, hand_work=True),
)
