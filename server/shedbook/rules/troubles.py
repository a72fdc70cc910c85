"""What could this be? Troubles of a crop, ranked by the signs seen.

The points are sums of weights, not chances: nobody has counted how often each sign goes with each
trouble. Two troubles too close, or too little seen, is an answer of its own.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from shedbook.rules.weather_features import Features

Json = Mapping[str, Any]

STEPS = 1000


def could_be(
    rulebook: Json, crop: str | None, own_crops: Any, seen: Sequence[str], at: Json
) -> dict[str, Any]:
    """The troubles that the signs speak for, first the one with the most points.

    `at` holds what is known beside the signs: "features" of the recent weather and the "stage".
    """
    numbers = rulebook["ranking"]
    rows = troubles_of(rulebook, crop, own_crops)
    shown = shown_by(rows)
    signs = sorted({sign for sign in seen if sign in shown})
    made = [_judge(trouble, rows[trouble], shown, signs, at, numbers) for trouble in sorted(rows)]
    made = [one for one in made if one["points"] > 0]
    made.sort(key=lambda one: (-one["points"], one["trouble"]))
    whole = 0.0
    for one in made:
        whole += one["points"]
    for one in made:
        one["score"] = _step(one["points"] / whole)
    return {
        "ranked": made,
        "passed_over": [sign for sign in dict.fromkeys(seen) if sign not in shown],
        **_verdict(made, signs, rows, shown, numbers),
    }


def troubles_of(rulebook: Json, crop: str | None, own_crops: Any) -> dict[str, Json]:
    """The rows that concern a crop: those of any crop, of the crop, and of its family."""
    own = own_crops.get(crop) if isinstance(own_crops, Mapping) else None
    told = own.get("family") if isinstance(own, Mapping) else None
    family = told if isinstance(told, str) else rulebook["crops"].get(crop, {}).get("family")
    return {
        trouble: row
        for trouble, row in rulebook["troubles"].items()
        if ("crops" not in row and "families" not in row)
        or crop in row.get("crops", ())
        or family in row.get("families", ())
    }


def shown_by(rows: Mapping[str, Json]) -> dict[str, int]:
    """The strength with which the troubles show each sign, added up; 0 is left out."""
    shown: dict[str, int] = {}
    for row in rows.values():
        for sign, strength in row["signs"].items():
            shown[sign] = shown.get(sign, 0) + strength
    return shown


def weight_of(row: Json, sign: str, shown: Mapping[str, int]) -> float:
    """A sign's strength times its share of all the strength with which troubles show it."""
    strength = row["signs"][sign]
    return _step(strength * strength / shown[sign])


def _judge(
    trouble: str, row: Json, shown: Mapping[str, int], signs: list[str], at: Json, numbers: Json
) -> dict[str, Any]:
    """One trouble with what speaks for it and against it, and its points."""
    weights = {sign: weight_of(row, sign, shown) for sign in row["signs"]}
    found: list[dict[str, Any]] = [
        {"sign": sign, "weight": weights[sign]} for sign in signs if sign in weights
    ]
    against: list[dict[str, Any]] = []
    for sign in signs:
        if sign in row["against"]:
            against.append({"sign": sign, "weight": numbers["against_points"]})
        elif sign not in weights:
            lost = _step(numbers["not_shown"] / shown[sign])
            against.append({"sign": sign, "weight": lost})
    points = 0.0
    for one in found:
        points += one["weight"]
    for one in against:
        points -= one["weight"]
    weather = _weather(row, at["features"])
    factor = float(row.get("prior", 1))
    for moved in weather:
        factor *= moved["factor"]
    is_other_stage = at["stage"] is not None and at["stage"] not in row.get("stages", [at["stage"]])
    if is_other_stage:
        factor *= numbers["stage_factor"]
    left = [sign for sign in weights if sign not in signs]
    left.sort(key=lambda sign: (-weights[sign], sign))
    return {
        "trouble": trouble,
        "points": _step(max(0.0, points) * factor) if found else 0.0,
        "for": found,
        "against": against,
        "missing": left[: numbers["missing_count"]],
        "weather": weather,
        "other_stage": is_other_stage,
    }


def _weather(row: Json, features: Features) -> list[dict[str, Any]]:
    """The weather rows of a trouble that hold by what was logged, with their factors."""
    held = []
    for condition in row.get("weather", ()):
        value = features.get(condition["feature"])
        if value is not None and value >= condition["at_least"]:
            held.append(
                {
                    "feature": condition["feature"],
                    "value": value,
                    "at_least": condition["at_least"],
                    "factor": condition["factor"],
                }
            )
    return held


def _verdict(
    made: list[dict[str, Any]],
    signs: list[str],
    rows: Mapping[str, Json],
    shown: Mapping[str, int],
    numbers: Json,
) -> dict[str, Any]:
    """Whether the signs are enough to go by; if two are too close, what would tell them apart."""
    if not signs:
        return {"verdict": "not_enough", "why": "no_signs", "tell_apart": []}
    least = numbers["least_points_alone" if len(signs) == 1 else "least_points"]
    if not made or made[0]["points"] < least:
        return {"verdict": "not_enough", "why": "too_little", "tell_apart": []}
    if len(made) > 1 and made[1]["points"] > numbers["close_share"] * made[0]["points"]:
        pair = [made[0]["trouble"], made[1]["trouble"]]
        apart = tell_apart(rows[pair[0]], rows[pair[1]], shown, signs)
        return {"verdict": "not_enough", "why": "too_close", "tell_apart": apart}
    return {"verdict": "ranked", "why": None, "tell_apart": []}


def tell_apart(
    one: Json, other: Json, shown: Mapping[str, int], signs: Iterable[str]
) -> list[dict[str, Any]]:
    """Signs not ticked yet that only one of two troubles shows: the two most telling of each."""
    ticked = set(signs)
    told = []
    for at, (row, rest) in enumerate(((one, other), (other, one))):
        left = [sign for sign in row["signs"] if sign not in rest["signs"] and sign not in ticked]
        left.sort(key=lambda sign: (-weight_of(row, sign, shown), sign))
        told += [{"sign": sign, "speaks_for": at} for sign in left[:2]]
    return told


def _step(value: float) -> float:
    """In thousandths, so that no last bit decides an order."""
    return math.floor(value * STEPS + 0.5) / STEPS
