"""How thirsty a bed is on a day: its crops by their stage, and the day's reference loss."""

import functools
from collections.abc import Sequence
from typing import Any, NamedTuple

from shedbook.agronomy.crop_stage import crop_coefficient, root_depth
from shedbook.agronomy.hargreaves import extraterrestrial_radiation, hargreaves_et0
from shedbook.log.moment import civil_date, day_number
from shedbook.rules.daily import COLDEST_C, WARMEST_C, Day
from shedbook.rules.match import Context, Planting, crop_fact, number
from shedbook.rules.water_ground import Three

SHALLOWEST_M, DEEPEST_M = 0.05, 5


class Thirst(NamedTuple):
    """What one planting takes: coefficients and days of its stages, full depth of roots, p."""

    from_day: int
    kc: Three
    stage_days: list[float]
    root_m: float
    p: float


class Demand(NamedTuple):
    """What all plantings together ask of the soil on a day."""

    kc: float
    root_m: float
    p: float


def thirsts_of(
    context: Context, plantings: Sequence[Planting]
) -> tuple[list[Thirst], list[Planting]]:
    """The thirst of each planting, and the plantings whose crop nothing is known of."""
    found, unknown = [], []
    for planting in plantings:
        thirst = _thirst(context, planting)
        if thirst is None:
            unknown.append(planting)
        else:
            found.append(thirst)
    return found, unknown


def demand_on(thirsts: Sequence[Thirst], day: int, start_root_m: float) -> Demand:
    """The thirstiest crop's coefficient, the shallowest roots and the smallest share p.

    Nothing here is an average: a bed is watered for the plant in it that needs it first.
    """
    kc, root, p = 0.0, float(DEEPEST_M), 1.0
    for one in thirsts:
        age = day - one.from_day
        if age < 0:
            continue
        kc = max(kc, crop_coefficient(one.kc[0], one.kc[1], one.kc[2], one.stage_days, age))
        start = min(max(start_root_m, SHALLOWEST_M), one.root_m)
        root = min(root, root_depth(start, one.root_m, one.stage_days, age))
        p = min(p, one.p)
    return Demand(kc, root, p)


def reference_loss(latitude_deg: float, air: Day, error_c: float) -> Three:
    """Hargreaves' loss of the day: dry, middle and wet.

    A filled temperature may be wrong by `error_c`: lows lower with highs higher dry the soil more.
    """
    if air.low_c is None or air.high_c is None:
        return 0.0, 0.0, 0.0
    radiation = _radiation(latitude_deg, _day_of_year(air.day))
    middle = hargreaves_et0(air.low_c, air.high_c, radiation)
    if air.how == "measured":
        return middle, middle, middle
    far_low, far_high = max(air.low_c - error_c, COLDEST_C), min(air.high_c + error_c, WARMEST_C)
    mean = (air.low_c + air.high_c) / 2
    near_low, near_high = min(air.low_c + error_c, mean), max(air.high_c - error_c, mean)
    dry = hargreaves_et0(far_low, far_high, radiation)
    wet = hargreaves_et0(near_low, near_high, radiation)
    return max(dry, middle), middle, min(wet, middle)


# The same days are asked for bed after bed; the function is pure.
@functools.lru_cache(maxsize=1024)
def _radiation(latitude_deg: float, day_of_year: int) -> float:
    return extraterrestrial_radiation(latitude_deg, day_of_year)


def _day_of_year(day: int) -> int:
    return day - day_number(civil_date(day)[0], 1, 1) + 1


def _thirst(context: Context, planting: Planting) -> Thirst | None:
    def fact(name: str) -> Any:
        return crop_fact(context, planting.get("crop"), name)

    kc = [_within(fact(name), 0.01, 2) for name in ("kc_ini", "kc_mid", "kc_end")]
    stages = fact("stage_days")
    root = _within(fact("root_depth_low_m"), SHALLOWEST_M, DEEPEST_M)
    p = _within(fact("depletion_share"), 0.05, 0.9)
    lengths = [_within(one, 0, 1000) for one in stages] if isinstance(stages, list) else []
    known_kc = [one for one in kc if one is not None]
    known_lengths = [one for one in lengths if one is not None]
    if len(known_kc) != 3 or len(known_lengths) != 4 or root is None or p is None:
        return None
    three = (known_kc[0], known_kc[1], known_kc[2])
    return Thirst(planting["from_day"], three, known_lengths, root, p)


def _within(value: Any, least: float, most: float) -> float | None:
    size = number(value)
    return size if size is not None and least <= size <= most else None
