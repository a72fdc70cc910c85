"""Random warmth: trays that are read or not, weeks of lows and highs with gaps, and frosty nights,
with temperatures on both sides of every limit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tests.unit.rules.gardens import RandomGarden

DAY_S = 86_400
NOON_S = 43_200
RAISED = ("pepper", "pepper", "pepper", "pepper", "tomato", "eggplant", "oca")
HOSTS = ("pepper", "tomato", "sweet_corn", "bean", "cabbage", "broccoli")
SOIL_C = (9, 12.5, 15, 19.9, 22.5, 25, 25, 30, 36)
# A season's character: the lows and highs that its days are drawn from.
WEATHERS = (
    ((19, 20, 21), (28, 30, 33)),
    ((13, 15.5, 17, 19), (24, 28)),
    ((9, 12.5, 14), (20, 24)),
    ((24, 26, 28), (34, 36, 39)),
)
MOST_MISSING = ("corn_borer_dates", "seedcorn_maggot_dates", "cabbage_maggot_dates")


def add_heat(garden: RandomGarden) -> int:
    """A tray or a standing planting with its weather; an instant in that time."""
    day = garden._instant() // DAY_S
    _set_place(garden)
    luck = garden.chance.random()
    if luck < 0.15:
        _full_tray(garden, day)
    elif luck < 0.45:
        _tray(garden, day)
    else:
        _outside(garden, day)
    return day * DAY_S + garden.chance.randrange(DAY_S)


def _set_place(garden: RandomGarden) -> None:
    chance = garden.chance
    setting: dict[str, Any] = {
        "region": chance.choice(["na_midwest", "na_midwest", "na_northeast", "europe"]),
        "latitude_deg": chance.choice([43.1, 43.1, 43.1, -36.8]),
        "longitude_deg": 0,
    }
    for name, dates in (("last_frost", ("05-15", "10-01")), ("first_frost", ("10-10", "02-29"))):
        if chance.random() < 0.6:
            setting[name] = chance.choice(dates)
    if chance.random() < 0.8:
        # So few days are written down that the sums start with the first of them.
        setting["thresholds"] = {f"{rule}.most_missing_days": 400 for rule in MOST_MISSING}
        setting["thresholds"]["stand.chance_z"] = chance.choice([0, 1.96, 1e300])
    garden.add("setting", setting)


def _make(garden: RandomGarden, crop: str) -> dict[str, str]:
    chance = garden.chance
    bed, planting = chance.choice(garden.beds), garden._id()
    details: dict[str, Any] = {"crop": crop, "plants": 6}
    if chance.random() < 0.5:
        details["days_to_maturity"] = chance.choice([55, 70, 90])
    if chance.random() < 0.5:
        details["degree_days_to_pick"] = chance.choice([200, 450, 900])
    here = {"planting": planting, "bed": bed}
    garden.add("planting", details, here, id=planting)
    garden.plantings.append((planting, bed))
    return here


def _tray(garden: RandomGarden, day: int) -> None:
    """Sown some days ago; some are read in their soil, some in their air, some not at all."""
    chance = garden.chance
    here = _make(garden, chance.choice(RAISED))
    sown = day - chance.choice([0, 3, 8, 9, 12, 14, 16, 20, 50])
    sow: dict[str, Any] = {"place": chance.choice(["tray", "tray", "direct"])}
    if chance.random() < 0.8:
        sow["seeds"] = chance.choice([1, 12, 50, 50, 50])
    if chance.random() < 0.3:
        sow["soil_c"] = chance.choice(SOIL_C)
    garden.add("sow", sow, here, instant=sown * DAY_S + NOON_S)
    kind = chance.choice(["soil_temperature", "soil_temperature", "air_temperature"])
    warm = chance.choice([(25, 25.5), (22.5, 24), (25,), (20, 20, 20.5), SOIL_C])
    for at in range(sown, day + 1, chance.choice([1, 3, 7, 7, 12])):
        low = chance.choice(warm)
        read = {"temperature_c": low} if kind == "soil_temperature" else _air(garden, low)
        about = {"planting": here["planting"]} if chance.random() < 0.95 else {}
        garden.add(kind, read, about, instant=at * DAY_S + NOON_S)
    if chance.random() < 0.5:
        up = (
            {"count": chance.choice([0, 9, 12, 30, 45, 48, 49, 60])}
            if chance.random() < 0.8
            else {}
        )
        garden.add("emerge", up, here, instant=(sown + 9) * DAY_S)
    if chance.random() < 0.15:
        work = chance.choice(["thin", "harden", "sow", "transplant"])
        garden.add(work, {}, here, instant=(day - 1) * DAY_S)


def _full_tray(garden: RandomGarden, day: int) -> None:
    """Two weeks in a warm tray, where some came up: the late day is just over, or not yet."""
    chance = garden.chance
    here = _make(garden, "pepper")
    sown = day - chance.choice([11, 12, 13, 14])
    garden.add("sow", {"place": "tray", "seeds": 50}, here, instant=sown * DAY_S + NOON_S)
    for at in (sown, sown + 6, day):
        read = {"temperature_c": chance.choice([24.5, 25, 25])}
        about = {"planting": here["planting"]}
        garden.add("soil_temperature", read, about, instant=at * DAY_S + NOON_S)
    up = {"count": chance.choice([20, 45, 47, 48, 49])}
    garden.add("emerge", up, here, instant=(sown + 9) * DAY_S + NOON_S)


def _air(garden: RandomGarden, low: float) -> dict[str, float]:
    read = {"low_c": low - 6, "high_c": low + garden.chance.choice([-5, 1, 6])}
    if garden.chance.random() < 0.1:
        del read[garden.chance.choice(["low_c", "high_c"])]
    return read


def _outside(garden: RandomGarden, day: int) -> None:
    """Planted out, perhaps in bloom, with up to two months of weather before the day."""
    chance = garden.chance
    here = _make(garden, chance.choice(HOSTS))
    stood = chance.choice([10, 30, 45, 60, 75])
    garden.add("transplant", {}, here, instant=(day - stood) * DAY_S)
    if chance.random() < 0.5:
        stage = chance.choice([{"first_bloom": True}, {"bbch": 60}, {"bbch": 61}])
        bloomed = day - chance.choice([1, 5, 20, 45])
        garden.add("stage", stage, here, instant=bloomed * DAY_S)
    lows, highs = chance.choice(WEATHERS)
    for at in range(day - chance.choice([5, 20, 60]), day + 1):
        if chance.random() < 0.03:
            lows, highs = chance.choice(WEATHERS)
        if chance.random() < chance.choice([0.01, 0.1, 0.5]):
            continue
        read = {"low_c": chance.choice(lows), "high_c": chance.choice(highs)}
        garden.add("air_temperature", read, {}, instant=at * DAY_S + NOON_S)
    if chance.random() < 0.4:
        told = {"low_c": chance.choice([-3, 0, 2, 2.1, 9])}
        garden.add("forecast", told, {}, instant=(day - chance.choice([0, 0, 1])) * DAY_S + NOON_S)
    if chance.random() < 0.2:
        cover = {"what": chance.choice(["fleece", "none"])}
        garden.add("cover", cover, here, instant=day * DAY_S + NOON_S)
