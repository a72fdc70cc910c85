"""The form of a row, shape by shape: what it must say and what it may."""

from shedbook.rules.rows.parts import (
    CONDITION,
    CONDITIONS,
    NAME,
    NAMES,
    NUMBER,
    WHERE,
    WHOLE,
    Params,
    is_blocks,
    is_list_of,
    is_pair,
    is_settles,
    is_span,
    is_whole,
)

SHORTEST_SOURCE = 10

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
    "settles": (is_settles, "a kind and the details that one tap writes"),
    "crops": NAMES,
    "families": NAMES,
    "bed_where": WHERE,
}
REQUIRED: dict[str, Params] = {
    "once_after": {
        "anchor": CONDITION,
        "due_after_days": (is_list_of(is_whole), "a list of whole numbers of days"),
        "settled_by": CONDITION,
    },
    "repeat_every": {"anchor": CONDITION, "settled_by": CONDITION},
    "withhold": {
        "after": CONDITION,
        "span": (is_span, "a field and a unit, day or hour"),
        "blocks": (is_blocks, "hand_work or a list of kinds"),
        "reach": (lambda value: value in ("plants", "bed"), "plants or bed"),
    },
    "gap": {"counts": CONDITIONS, "due_after_hours": NUMBER, "closes_after_hours": NUMBER},
    "evenness": {
        "counts": CONDITIONS,
        "window_days": WHOLE,
        "min_gaps": WHOLE,
        "shares_of": NAME,
        "morning_before_hour": WHOLE,
    },
    "rest": {
        "match": (lambda value: value == "family", "family"),
        "years": WHOLE,
        "same_season_days": WHOLE,
    },
    "beside": {
        "assumed_days": WHOLE,
        "pairs": (is_list_of(is_pair), "crop or family, against_crop or -family, reason"),
    },
}
OPTIONAL: dict[str, Params] = {
    "once_after": {"opens_before_days": WHOLE, "closes_after_days": WHOLE},
    "repeat_every": {
        "every_days": WHOLE,
        "every_days_of_crop": NAME,
        "opens_before_days": WHOLE,
        "closes_after_days": WHOLE,
        "lasts_days": WHOLE,
    },
    "withhold": {"no_label": WHERE, "unknown_lasts_days": WHOLE},
    "evenness": {"limit_longest_gap_hours": NUMBER, "limit_cv": NUMBER},
}
