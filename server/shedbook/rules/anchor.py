"""Days that a row counts from though no event stands for them: a planned day, or the last frost."""

from collections.abc import Sequence

from shedbook.log.moment import civil_date, parse_day
from shedbook.rules.match import Context, Json, Planting, find_for, text
from shedbook.rules.timing import day_of

LAST_FROST = "last_frost"


def anchor_day(
    context: Context, planting: Planting, fields: Sequence[str]
) -> tuple[str, int] | None:
    """The first of the fields that is known, with its day number."""
    for field in fields:
        day = _frost_day(context) if field == LAST_FROST else day_of(planting, field)
        if day is not None:
            return field, day
    return None


def _frost_day(context: Context) -> int | None:
    """The last frost of this calendar year, as the garden's grower expects it."""
    written = text(context.view["settings"].get(LAST_FROST))
    if written is None:
        return None
    try:
        return parse_day(f"{civil_date(context.today)[0]:04d}-{written}")
    except ValueError:
        return None


def has_happened(context: Context, planting: Planting, conditions: Sequence[Json]) -> bool:
    """Was any of these written down for the planting?"""
    return any(find_for(context, condition, planting) for condition in conditions)
