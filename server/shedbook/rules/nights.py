"""Nights and days that are too cold or too hot for what stands out in them.

What they are held against is the row's `of`: fruit_set and the picking_gap that follows, frost
tonight, tray_air around seedlings.
"""

from collections.abc import Callable, Mapping

from shedbook.rules.finding import Finding
from shedbook.rules.frost import frost
from shedbook.rules.fruit_set import fruit_set, picking_gap
from shedbook.rules.match import Context, Rule
from shedbook.rules.tray_air import tray_air

MODES: Mapping[str, Callable[[Context, Rule], list[Finding]]] = {
    "fruit_set": fruit_set,
    "picking_gap": picking_gap,
    "frost": frost,
    "tray_air": tray_air,
}


def nights(context: Context, rule: Rule) -> list[Finding]:
    """What the row's mode finds."""
    return MODES[rule["params"]["of"]](context, rule)
