"""What a row of the shapes `progress` and `nights` must say, mode by mode, and what it may."""

import re
from collections.abc import Collection, Mapping
from typing import Any

from shedbook.rules.rows.parts import (
    NAMES,
    NUMBER,
    WHOLE,
    Check,
    Params,
    is_condition,
    is_list_of,
    is_name,
    is_number,
)

_MONTH_DAY = re.compile(r"(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])", re.ASCII)


def is_biofix(value: Any) -> bool:
    """A date of the year, or a kind of the planting's own work."""
    if isinstance(value, Mapping) and set(value) == {"month_day"}:
        return isinstance(value["month_day"], str) and bool(
            _MONTH_DAY.fullmatch(value["month_day"])
        )
    return is_condition(value)


def is_milestone(value: Any) -> bool:
    """A name and the sum that its source gives, in the source's own degrees."""
    if not isinstance(value, Mapping) or not is_name(value.get("name")):
        return False
    sums = set(value) - {"name"}
    return sums in ({"sum_f_days"}, {"sum_c_days"}) and is_number(value[sums.pop()])


def is_one_of(names: Collection[str]) -> Check:
    """Is it one of the names?"""
    return lambda value: isinstance(value, str) and value in names


_LIMITS: Params = {
    f"{strength}{name}_c": NUMBER
    for strength in ("", "strong_")
    for name in ("low_night", "high_night", "high_day")
}
# What each mode must say.
MODES: dict[str, dict[str, Params]] = {
    "progress": {
        "emergence": {"late_factor": NUMBER, "held_days": WHOLE, "asks_for_days": WHOLE},
        "stand": {
            "late_factor": NUMBER,
            "held_days": WHOLE,
            "asks_for_days": WHOLE,
            "chance_z": NUMBER,
        },
        "degree_days": {
            "method": (
                lambda value: value in ("average", "modified", "sine"),
                "average, modified or sine",
            ),
            "biofix": (is_biofix, "a month_day, or a kind of work"),
            "milestones": (is_list_of(is_milestone), "names, each with sum_f_days or sum_c_days"),
            "horizon_share": NUMBER,
            "told_for_days": WHOLE,
            "most_missing_days": WHOLE,
        },
        "first_pick": {
            "early_days": WHOLE,
            "late_days": WHOLE,
            "asks_after_days": WHOLE,
            "most_missing_days": WHOLE,
        },
    },
    "nights": {
        "fruit_set": {
            **_LIMITS,
            "bloom_after_days": WHOLE,
            "window_days": WHOLE,
            "told_from_days": WHOLE,
            "flag_run_days": WHOLE,
            "flag_week_days": WHOLE,
            "most_missing_days": WHOLE,
        },
        "picking_gap": {
            **{name: part for name, part in _LIMITS.items() if name.startswith("strong_")},
            "bloom_after_days": WHOLE,
            "run_days": WHOLE,
            "lag_from_days": WHOLE,
            "lag_to_days": WHOLE,
        },
        "frost": {"cover_at_c": NUMBER, "look_back_days": WHOLE, "quiet_above_c": NUMBER},
        "tray_air": {
            "night_low_c": NUMBER,
            "day_high_c": NUMBER,
            "window_days": WHOLE,
            "flag_days": WHOLE,
        },
    },
}
# Thresholds are given in the degrees of their source; regions where the sums hold nowhere else.
_MAY: Params = {
    "lower_c": NUMBER,
    "lower_f": NUMBER,
    "upper_c": NUMBER,
    "upper_f": NUMBER,
    "regions": NAMES,
}
OF: dict[str, Params] = {
    shape: {"of": (is_one_of(modes), f"one of {', '.join(modes)}")}
    for shape, modes in MODES.items()
}
ANY_MODE: dict[str, Params] = {
    "progress": {
        **{name: part for mode in MODES["progress"].values() for name, part in mode.items()},
        **_MAY,
    },
    "nights": {name: part for mode in MODES["nights"].values() for name, part in mode.items()},
}


def lacking_of_mode(row: Mapping[str, Any]) -> tuple[str, str] | None:
    """The first param that the row's mode needs and the row lacks, with what would be right."""
    for name, (_, wanted) in MODES[row["shape"]][row["of"]].items():
        if name not in row:
            return name, wanted
    if row["of"] == "degree_days" and ("lower_c" in row) == ("lower_f" in row):
        return "lower_c", "given once: lower_c or lower_f"
    return None
