"""Kinds of tending what stands: water, food, cover, support."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import (
    A_BED,
    ANY_PLACE,
    ANYTHING,
    Kind,
    Work,
    choice,
    field,
    number,
    text,
)
from shedbook.log.kinds.places import WATER_METHODS


class Water(Work):
    """Water given: litres, depth, or minutes at a known flow."""

    kind_name = "water"
    at_least_one = (("volume_l", "depth_mm", "duration_min"),)
    volume_l = number("L", 0.01, 100_000, step=1, primary=True, above=2000)
    method = choice(*WATER_METHODS, primary=True)
    depth_mm = number("mm", 0.1, 500, step=1, above=60)
    duration_min = number("minutes", 0.1, 2880, step=5, above=600)
    flow_l_per_min = number("L/min", 0.001, 1000, step=0.1, above=100)


class Feed(Work):
    """Fertiliser, compost or manure given; the percentages are those printed on the bag."""

    kind_name = "feed"
    product = text(primary=True)
    amount_g = number("g", 0.1, 1_000_000, step=10, primary=True, above=50_000)
    amount_ml = number("mL", 0.1, 1_000_000, step=10, above=50_000)
    n_percent = number("%", 0, 100, step=0.1, above=50)
    p_percent = number("%", 0, 100, step=0.1, above=60)
    k_percent = number("%", 0, 100, step=0.1, above=65)
    placement = choice("side", "broadcast", "drench", "leaf", "mixed_in")
    origin = choice("mineral", "compost", "composted_manure", "raw_manure", "plant", "other")
    # What a cup of it weighs is known for these.
    material = choice(
        "ammonium_nitrate",
        "sodium_nitrate",
        "ammonium_sulfate",
        "urea",
        "mixed",
        "compost",
        "cottonseed_meal",
        "other",
    )
    area_m2 = number("m²", 0.01, 1_000_000, step=1, above=100_000)
    depth_mm = number("mm", 0.1, 500, step=10, above=150)


class Mulch(Work):
    """A cover laid on the soil."""

    kind_name = "mulch"
    material = choice(
        "straw", "leaves", "grass", "compost", "wood_chips", "film", "other", primary=True
    )
    depth_mm = number("mm", 0, 500, step=10, primary=True, above=200)
    film_colour = choice("clear", "black", "white", "other")


class Prune(Work):
    """Parts of the plant taken off."""

    kind_name = "prune"
    part = choice("suckers", "leaves", "tip", "flowers", "branches", "other", primary=True)


class Stake(Work):
    """Support given to plants."""

    kind_name = "stake"
    support = choice("stake", "cage", "string", "net", "other", primary=True)
    ties = choice("loose", "tight")


class Weed(Work):
    """Weeds taken out."""

    kind_name = "weed"
    tool = choice("hand", "hoe", "flame", "mower", "other", primary=True)
    duration_min = number("minutes", 0.1, 2880, step=5, above=600)


class Cover(Work):
    """A cover put over plants, or taken off (`none`)."""

    kind_name = "cover"
    what = choice(
        "fleece", "net", "shade_cloth", "tunnel", "film", "none", primary=True, required=True
    )


class Clean(Work):
    """Hands, tools or containers cleaned, so that disease does not travel."""

    kind_name = "clean"
    what = choice("hands", "tools", "containers", "stakes", "boots", primary=True, required=True)
    # `with` is a word of Python, not of the wire.
    with_what = text(data_key="with", primary=True)


class CatchCans(Work):
    """What an even row of cans caught while the line or the sprinkler ran."""

    kind_name = "catch_cans"
    volumes_ml = field(f.NumberListField, required=True, primary=True)
    duration_min = number("minutes", 0.1, 2880, step=5, primary=True, above=600)
    can_area_cm2 = number("cm²", 1, 10_000, step=1)
    method = choice(*WATER_METHODS)


class Solarise(Work):
    """Film laid over moist soil so that the sun heats it, or lifted again."""

    kind_name = "solarise"
    step = choice("laid", "lifted", required=True, primary=True)
    film = choice("clear", "black", "other", primary=True)
    planned_weeks = number("weeks", 1, 26, step=1, primary=True, above=12)


KINDS = (
    Kind(Water, "work", ANY_PLACE),
    Kind(Feed, "work", ANY_PLACE, hand_work=True),
    Kind(Mulch, "work", ANY_PLACE, hand_work=True),
    Kind(Prune, "work", ANY_PLACE, hand_work=True),
    Kind(Stake, "work", ANY_PLACE, hand_work=True),
    Kind(Weed, "work", ANY_PLACE, hand_work=True),
    Kind(Cover, "work", ANY_PLACE, hand_work=True),
    Kind(Clean, "work", ANYTHING),
    Kind(CatchCans, "work", A_BED),
    Kind(Solarise, "work", A_BED, hand_work=True),
)
