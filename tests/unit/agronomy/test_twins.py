"""Python and the phone give the same numbers, to the last bit, on thousands of questions."""

from collections.abc import Callable
from random import Random
from typing import Any

import pytest

from shedbook.crops import load_crops
from tests.unit.agronomy.twin import Call, differing

CALLS_EACH = 3000


def elementary_call(random: Random) -> Call:
    name = random.choice(["sin", "cos", "atan", "asin", "acos", "exp", "ln", "power"])
    spans = {"asin": 1.01, "acos": 1.01, "exp": 710.0, "atan": 1e6, "ln": 1e6}
    most = spans.get(name, random.choice([1.0, 10.0, 1e4, 1.1e6]))
    if name == "power":
        return "elementary", name, [random.uniform(-0.1, 50), random.uniform(-9, 9)]
    return "elementary", name, [random.uniform(-most, most)]


def hargreaves_call(random: Random) -> Call:
    latitude, day = random.uniform(-67, 67), random.randint(0, 367)
    name = random.choice(
        [
            "sunset_hour_angle",
            "solar_declination",
            "relative_distance",
            "extraterrestrial_radiation",
            "hargreaves_et0",
        ]
    )
    if name == "hargreaves_et0":
        low = random.uniform(-65, 45)
        return "hargreaves", name, [low, low + random.uniform(-1, 30), random.uniform(-1, 50)]
    return "hargreaves", name, [day] if name[0] in "sr" and name[1] != "u" else [latitude, day]


def degree_days_call(random: Random) -> Call:
    low = random.uniform(-20, 40)
    # Whole degrees often, so that a threshold is met exactly.
    if random.random() < 0.5:
        low = float(round(low))
    day = [low, low + random.choice([0, random.uniform(-1, 25), 10])]
    lower = random.choice([low, 10.0, random.uniform(-5, 45)])
    upper = random.choice([None, lower + random.uniform(-1, 30), day[1], 30.0])
    name = random.choice(["average", "modified_average", "single_sine"])
    return "degree_days", name, [*day, lower] if name == "average" else [*day, lower, upper]


def soil_water_call(random: Random) -> Call:
    def some(most: float) -> float:
        return random.uniform(-0.02 * most, most)

    taw = some(250)
    return (
        "soil_water",
        *random.choice(
            [
                ("total_available_water", [some(0.6), some(0.3), some(5.2)]),
                ("depletion_fraction", [some(1.05), some(20)]),
                ("readily_available_water", [taw, some(1.05)]),
                ("stress_coefficient", [random.uniform(-0.1, 1.1) * taw, taw, some(0.9)]),
                ("effective_rain", [some(4), some(9)]),
                ("container_available_water", [some(60), some(1.05)]),
                (
                    "water_day",
                    [random.uniform(0, 1) * taw, taw, some(0.8), some(40), some(20), some(12)],
                ),
            ]
        ),
    )


def crop_stage_call(random: Random) -> Call:
    stages = [random.randint(-1, 60) for _ in range(random.choice([4, 4, 4, 3]))]
    day = random.randint(-2, 200)
    return (
        "crop_stage",
        *random.choice(
            [
                ("stage_of", [stages, day]),
                ("crop_coefficient", [*(random.uniform(-0.1, 1.3) for _ in "imE"), stages, day]),
                ("root_depth", [random.uniform(0, 0.6), random.uniform(0.2, 2), stages, day]),
            ]
        ),
    )


def watering_call(random: Random) -> Call:
    one, other = random.uniform(-1, 200), random.uniform(-0.5, 40)
    name = random.choice(
        ["depth_of_volume", "volume_of_depth", "minutes_to_give", "volume_given"]
        + ["litres_to_refill"]
    )
    more = [random.uniform(-0.1, 1.1)] if name == "litres_to_refill" else []
    return "watering", name, [one, other, *more]


def emergence_call(random: Random) -> Call:
    tables = [crop for crop in load_crops().values() if "emergence_days" in crop]
    crop = random.choice(tables)
    soil = random.choice([random.uniform(-2, 42), float(random.randint(-1, 41))])
    days: Any = crop["emergence_days"]
    if "normal_seedling_share" in crop and random.random() < 0.5:
        return (
            "emergence",
            "normal_share",
            [
                crop["emergence_soil_c"],
                crop["normal_seedling_share"],
                soil,
            ],
        )
    name = random.choice(["days_to_emergence", "daily_share"])
    return "emergence", name, [crop["emergence_soil_c"], days, soil]


def uniformity_call(random: Random) -> Call:
    cans = [random.uniform(-0.01, 50) for _ in range(random.randint(2, 24))]
    if random.random() < 0.1:
        cans = [0.0] * len(cans)
    name = random.choice(["distribution_uniformity_low_quarter", "christiansen", "depth_per_hour"])
    more = [random.uniform(-1, 100), random.uniform(-1, 60)] if name == "depth_per_hour" else []
    return "uniformity", name, [cans, *more]


def spacing_call(random: Random) -> Call:
    if random.random() < 0.3:
        return "spacing", "plants_per_container", [random.uniform(0, 1.2), random.uniform(0, 0.5)]
    pattern = random.choice(["square", "staggered", "staggered", "ring"])
    step = random.choice([0.3, 0.45, random.uniform(0.005, 0.9)])
    length, width = random.choice([1.2, 3.0, random.uniform(0, 9)]), random.uniform(0, 3)
    return "spacing", "plants_in_bed", [length, width, step, 0.6, random.uniform(-0.1, 1), pattern]


@pytest.mark.parametrize(
    "make_call",
    [
        elementary_call,
        hargreaves_call,
        degree_days_call,
        soil_water_call,
        crop_stage_call,
        watering_call,
        emergence_call,
        uniformity_call,
        spacing_call,
    ],
    ids=lambda make: make.__name__.removesuffix("_call"),
)
def test_twins_agree_to_the_bit(make_call: Callable[[Random], Call]) -> None:
    random = Random(1998)
    calls = [make_call(random) for _ in range(CALLS_EACH)]
    assert not differing(calls)
    assert len({name for _, name, _ in calls}) > 1
