"""The form of a row, shape by shape: what it must say and what it may."""

from shedbook.rules.rows import heat
from shedbook.rules.rows.measures import (
    ANCHOR,
    BOUND_NAMES,
    DAY_OF,
    GATE,
    INTEGERS,
    SETTLING,
    TRUE,
    UNIT,
    VALUE,
)
from shedbook.rules.rows.parts import (
    CONDITION,
    CONDITIONS,
    NAME,
    NAMES,
    NUMBER,
    WHERE,
    WHOLE,
    Params,
    is_advice,
    is_advised,
    is_after,
    is_blocks,
    is_choice_of_days,
    is_list_of,
    is_number,
    is_pair_with,
    is_settles,
    is_span,
    is_weights,
    is_whole,
)

SHORTEST_SOURCE = 10

WEIGHTS = (is_weights, "a number for each grade of evidence")

COMMON: Params = {
    "shape": NAME,
    "subject": (lambda value: value in ("bed", "planting", "both"), "bed, planting or both"),
    "source": (
        lambda value: isinstance(value, str) and len(value) >= SHORTEST_SOURCE,
        "a source, or `common practice, no source`",
    ),
    "urgency": (is_whole, "a whole number, larger for what comes first"),
}
COMMON_OPTIONAL: Params = {
    "caution": NAME,
    # Whose sentences tell of it, when they are not those of the shape.
    "says": NAME,
    # Numbers that its advice tells, beside the reckoning: the words are `reason.advice.<rule>`.
    "advises": (is_advice, "names with numbers"),
    "settles": (is_settles, "a kind and the details that one tap writes"),
    "crops": NAMES,
    "families": NAMES,
    "bed_where": WHERE,
}
REQUIRED: dict[str, Params] = {
    "applications": {"of": CONDITION, "per": NAMES},
    "budget": {"before_days": WHOLE},
    "near": {"of": CONDITION, "near": CONDITIONS, "told_days": WHOLE, "says": NAME},
    # Its numbers are facts of crops.
    "keeping": {},
    "once_after": {
        "anchor": ANCHOR,
        "due_after_days": INTEGERS,
        "settled_by": SETTLING,
    },
    "threshold": {"value": VALUE},
    **heat.OF,
    "ladder": {
        "needs": CONDITIONS,
        "day_of": DAY_OF,
        "starts_before_days": WHOLE,
        "hours": (is_list_of(is_number), "a list of hours"),
        "air_low_c": NUMBER,
        "air_high_c": NUMBER,
        "too_cold_c": NUMBER,
        "settled_by": CONDITION,
        "ends_with": CONDITION,
        "least_days": WHOLE,
        "most_days": WHOLE,
        "recent_days": WHOLE,
    },
    "repeat_every": {"anchor": CONDITION, "settled_by": CONDITION},
    "withhold": {
        "after": (is_after, "a kind, or a list of kinds, each perhaps with `where`"),
        "blocks": (is_blocks, "hand_work or a list of kinds"),
        "reach": (lambda value: value in ("plants", "bed", "soil"), "plants, bed or soil"),
    },
    "gap": {"counts": CONDITIONS, "due_after_hours": NUMBER, "closes_after_hours": NUMBER},
    "evenness": {
        "counts": CONDITIONS,
        "window_days": WHOLE,
        "min_gaps": WHOLE,
        "shares_of": NAME,
        "morning_before_hour": WHOLE,
    },
    "scouting": {
        "watches": (
            lambda value: value in ("scout", "trap_read", "remove_plant"),
            "scout, trap_read or remove_plant",
        ),
    },
    "balance": {
        "start_root_m": NUMBER,
        "account_days": WHOLE,
        "fill_error_c": NUMBER,
        "late_after_days": WHOLE,
        "p_follows_thirst": WHOLE,
    },
    "uniformity": {"least_low_quarter": NUMBER, "lasts_days": WHOLE},
    "rest": {
        "match": (
            lambda value: value in ("family", "hosts", "shared"),
            "family, hosts or shared",
        ),
        "same_season_days": WHOLE,
        "weight": NUMBER,
    },
    "beside": {
        "assumed_days": WHOLE,
        "pairs": (
            is_list_of(is_pair_with("against_")),
            "crop or family, against_crop or -family, reason, grade and source",
        ),
        "weights": WEIGHTS,
    },
    "follow": {
        "within_days": WHOLE,
        "pairs": (
            is_list_of(is_pair_with("after_")),
            "crop or family, after_crop or -family, reason, grade and source",
        ),
        "weights": WEIGHTS,
    },
    "film": {"weeks": WHOLE, "weeks_at_most": WHOLE, "weight": NUMBER},
    # Its numbers stand with the hosts.
    "soil_spots": {},
}
OPTIONAL: dict[str, Params] = {
    # Which of three questions: uses in a season, days between two, or the same group in a row.
    "applications": {
        "most_field": NAME,
        "interval_field": NAME,
        "same": NAME,
        "most_in_row": WHOLE,
        "told_days": WHOLE,
    },
    "budget": {"high_kg_per_ha": NUMBER},
    "near": {
        "before_hours": NUMBER,
        "after_hours": NUMBER,
        "after_field": NAME,
        "unknown_hours": NUMBER,
        "same_day": (lambda value: value is True, "true or left out"),
        "wanted": (lambda value: value is True, "true or left out"),
        "else_unknown": (lambda value: value is True, "true or left out"),
    },
    # How long a round counts, the plan by which it is judged, and what a removal asks for.
    "scouting": {
        "window_days": WHOLE,
        "band": NUMBER,
        "alpha": NUMBER,
        "beta": NUMBER,
        "most_looked": WHOLE,
        "fewest_units": WHOLE,
        "anchor": CONDITION,
        "due_after_days": WHOLE,
        "opens_before_days": WHOLE,
        "closes_after_days": WHOLE,
    },
    "once_after": {
        "opens_before_days": WHOLE,
        "closes_after_days": WHOLE,
        "lapses_after_days": WHOLE,
        "only_before": CONDITIONS,
    },
    "threshold": {
        "at": CONDITION,
        "recent_days": WHOLE,
        "gate": GATE,
        "only_before": CONDITIONS,
        "asks": TRUE,
        "unit": UNIT,
        "is_not": NAMES,
        "notes": NAMES,
        **dict.fromkeys(BOUND_NAMES, NUMBER),
        **{f"{name}_of_crop": NAME for name in BOUND_NAMES},
    },
    "ladder": {"closes_after_days": WHOLE},
    # What a mode needs of these is looked at in check.py.
    **heat.ANY_MODE,
    "repeat_every": {
        "every_days": WHOLE,
        "every_days_of_crop": NAME,
        "opens_before_days": WHOLE,
        "closes_after_days": WHOLE,
        "lasts_days": WHOLE,
    },
    # How long: one of a label's figure, fixed days, or fixed hours.
    "withhold": {
        "span": (is_span, "a field and a unit, day or hour"),
        "span_days": WHOLE,
        "span_hours": NUMBER,
        "choose": (is_choice_of_days, "a fact of the crop that is true or false, and span_days"),
        "no_label": WHERE,
        "unknown_lasts_days": WHOLE,
        "softly": (lambda value: value is True, "true or left out"),
        "ended_by": CONDITIONS,
        "flagged_days": WHOLE,
        "blocks_where": WHERE,
    },
    "evenness": {"limit_longest_gap_hours": NUMBER, "limit_cv": NUMBER},
    "balance": {
        "full_days": WHOLE,
        "drained_mm": NUMBER,
        "mix_low_percent": NUMBER,
        "mix_high_percent": NUMBER,
        "crown_factor": NUMBER,
        "start_shares": (is_list_of(is_number), "three shares: of the dry, middle and wet account"),
    },
    "rest": {
        "years": WHOLE,
        "advised": (is_list_of(is_advised), "years, source and crops"),
        "weight_noted": NUMBER,
        "weight_unknown": NUMBER,
    },
}
