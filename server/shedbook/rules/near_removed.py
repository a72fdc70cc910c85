"""The plants that stood next to one taken out for a pest or disease: look at them again."""

from shedbook.log.layout import plants_per_row
from shedbook.rules.finding import Finding, day_finding, key_prefix, reason
from shedbook.rules.match import (
    UNCOUNTED,
    Context,
    Event,
    Planting,
    Rule,
    covers,
    days,
    find_for,
    is_partial,
    live_plants,
    number,
    time_of,
)

MOST_ROWS = 1000


def near_removed(context: Context, rule: Rule) -> list[Finding]:
    """One finding for each removal whose neighbours have not all been looked at since."""
    planting = context.view["planting"]
    live = live_plants(planting, context.today)
    if live == [UNCOUNTED]:
        return []
    looks = find_for(context, {"kind": "scout"}, planting)
    found = []
    for removal in find_for(context, rule["params"]["anchor"], planting):
        if not is_partial(removal) or key_prefix(context, rule) + removal["id"] in context.declined:
            continue
        left = _not_looked_at(context, removal, looks, _beside(planting, removal, live))
        if left:
            found += _finding(context, rule, removal, left)
    return found


def neighbours_of(plant: int, count: int, rows: int) -> list[int]:
    """The plants before and behind it in its row, and in the same place of the rows beside."""
    per_row = plants_per_row(count, rows)
    place = (plant - 1) % per_row
    near = [plant - per_row, plant + per_row]
    if place > 0:
        near.append(plant - 1)
    if place < per_row - 1:
        near.append(plant + 1)
    return sorted(one for one in near if 1 <= one <= count)


def _beside(planting: Planting, removal: Event, live: list[int]) -> list[int]:
    count = int(number(planting.get("plants")) or 0)
    rows = number(planting.get("rows"))
    whole = int(rows) if rows is not None and 1 <= rows <= MOST_ROWS else 1
    near = {
        neighbour
        for plant in removal["plants"]
        if plant <= count
        for neighbour in neighbours_of(plant, count, whole)
    }
    return [plant for plant in live if plant in near]


def _not_looked_at(
    context: Context, removal: Event, looks: list[Event], near: list[int]
) -> list[int]:
    later = [event for event in looks if time_of(event) > time_of(removal)]
    return [plant for plant in near if not any(covers(context, event, plant) for event in later)]


def _finding(context: Context, rule: Rule, removal: Event, left: list[int]) -> list[Finding]:
    due = removal["day"] + days(context, rule, "due_after_days")
    reasons = [
        reason("done.remove_plant", done_day=removal["day"]),
        reason("scouting.removed", removed_plants=sorted(removal["plants"])),
        reason("only_plants", plants=left),
    ]
    made = day_finding(context, rule, removal["id"], due, reasons, [removal])
    if made is None:
        return []
    made["subject"]["plants"] = left
    return [made]
