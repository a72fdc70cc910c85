"""When a planting went or is to go into its place."""

from shedbook.log.moment import parse_day
from shedbook.rules.match import Planting, text


def day_of(planting: Planting, field: str) -> int | None:
    """The day number that a date field of a planting holds."""
    written = text(planting.get(field))
    if written is None:
        return None
    try:
        return parse_day(written)
    except ValueError:
        return None


def start_day(planting: Planting) -> int | None:
    """When it went or is to go into its place."""
    stood: int | None = planting.get("from_day")
    return day_of(planting, "planned_on") if stood is None else stood
