"""The air of the days that are over, so told that a later look back tells the same of them.

A gap between two readings is drawn as ever. After the last reading nothing is held: what counts
there would be taken back as soon as the gap grew too long.
"""

from shedbook.rules.daily import FILL_DAYS, Day, daily_air
from shedbook.rules.match import Context


def past_air(context: Context, first_day: int) -> list[Day]:
    """Low and high of each day from the first to yesterday, around the view's planting."""
    yesterday = context.today - 1
    if first_day > yesterday:
        return []
    planting = context.view["planting"]
    # Asked for so far ahead, the gap after the last reading is always too long to be held.
    air = daily_air(context, planting, first_day, yesterday + FILL_DAYS + 1)
    return air[: yesterday - first_day + 1]
