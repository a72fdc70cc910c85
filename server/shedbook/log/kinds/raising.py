"""Kinds of raising plants: from seed to the bed."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import (
    A_PLANTING,
    Kind,
    Work,
    choice,
    count,
    field,
    number,
)

MOST_SEEDS = 100_000


class Sow(Work):
    """Seed put into trays, pots, or straight into the bed."""

    kind_name = "sow"
    place = choice("tray", "pot", "direct", primary=True)
    seeds = count(1, MOST_SEEDS, primary=True)
    depth_mm = number("mm", 0, 300, step=1, above=80)
    soil_c = number("°C", -10, 60, step=0.5, below=5, above=40)


class SeedTreatment(Work):
    """Seed treated before sowing, and the small trial of it that shows what came through."""

    kind_name = "seed_treatment"
    not_above = (("trial_germinated", "trial_seeds"),)
    needs = (("trial_germinated", "trial_seeds"),)
    method = choice("hot_water", "other", required=True, primary=True)
    water_c = number("°C", 20, 70, step=0.5, primary=True, above=55)
    duration_min = number("minutes", 0.5, 120, step=1, primary=True, above=60)
    seed_form = choice("plain", "pelleted", "treated", "old")
    trial_seeds = count(1, MOST_SEEDS)
    trial_germinated = count(0, MOST_SEEDS)


class Emerge(Work):
    """Seedlings seen above the soil."""

    kind_name = "emerge"
    count = count(0, MOST_SEEDS, primary=True)


class Thin(Work):
    """Spare seedlings taken out."""

    kind_name = "thin"
    kept = count(0, MOST_SEEDS, primary=True)
    removed = count(0, MOST_SEEDS)


class PotOn(Work):
    """Plants moved into a larger container."""

    kind_name = "pot_on"
    container_volume_l = number("L", 0.01, 1000, step=0.1, primary=True, above=20)


class Harden(Work):
    """Hours that raised plants spent outside before planting out."""

    kind_name = "harden"
    not_above = (("low_c", "high_c"),)
    hours_outside = number("hours", 0, 24, step=0.5, primary=True)
    low_c = number("°C", -60, 60, step=0.5, below=0)
    high_c = number("°C", -60, 60, step=0.5, above=40)


class Transplant(Work):
    """Plants set out into a bed."""

    kind_name = "transplant"
    depth_mm = number("mm", 0, 500, step=5, above=300)
    soil_c = number("°C", -10, 60, step=0.5, primary=True, below=8, above=40)


class Stage(Work):
    """How far a planting has grown; BBCH is the growth-stage code, 0 to 99."""

    kind_name = "stage"
    at_least_one = (("bbch", "leaf_count", "first_bloom", "first_set"),)
    leaf_count = count(0, 500, primary=True)
    first_bloom = field(f.BooleanField, primary=True)
    first_set = field(f.BooleanField, primary=True)
    bbch = count(0, 99)


class RemovePlant(Work):
    """Plants taken out for good."""

    kind_name = "remove_plant"
    cause = choice(
        "disease", "insect", "animal", "weather", "weak", "finished", "other", primary=True
    )
    route = choice("compost", "bin", "burned", "buried", "fed", "other", primary=True)


KINDS = (
    Kind(SeedTreatment, "work", A_PLANTING),
    Kind(Sow, "work", A_PLANTING),
    Kind(Emerge, "work", A_PLANTING),
    Kind(Thin, "work", A_PLANTING, hand_work=True),
    Kind(PotOn, "work", A_PLANTING, hand_work=True),
    Kind(Harden, "work", A_PLANTING),
    Kind(Transplant, "work", A_PLANTING, hand_work=True),
    Kind(Stage, "work", A_PLANTING),
    Kind(RemovePlant, "work", A_PLANTING, hand_work=True),
)
