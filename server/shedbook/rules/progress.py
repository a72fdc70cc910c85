"""Shares of each day that add up toward something that is to come, by the day's temperature.

What adds up, and toward what, is the row's `of`: emergence and stand by a table of soil
temperatures, degree_days toward published sums, first_pick toward the first fruit of a planting.
"""

from collections.abc import Callable, Mapping

from shedbook.rules.coming_up import coming_up, stand
from shedbook.rules.finding import Finding
from shedbook.rules.first_pick import first_pick
from shedbook.rules.match import Context, Rule
from shedbook.rules.milestones import milestones

MODES: Mapping[str, Callable[[Context, Rule], list[Finding]]] = {
    "emergence": coming_up,
    "stand": stand,
    "degree_days": milestones,
    "first_pick": first_pick,
}


def progress(context: Context, rule: Rule) -> list[Finding]:
    """What the row's mode finds."""
    return MODES[rule["params"]["of"]](context, rule)
