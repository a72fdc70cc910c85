"""How long a lot in the store keeps, by its crop's published days at the store's temperature.

A lot is what one `store` entry of a planting put in; what is taken out of the same place ends the
oldest lots first. No days are told for what was pickled or put in oil: only a tested recipe does.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shedbook.rules.finding import Finding, Reason, finding, key_prefix, reason
from shedbook.rules.match import Context, Event, Rule, crop_fact, find, number, text
from shedbook.rules.withhold import in_doubt, withhold

# Amounts that a lot may be counted in; a lot is followed in the first that it has.
UNITS = ("count", "mass_g")


@dataclass(frozen=True)
class Lot:
    """What one entry put into the store, and the picks that went into it."""

    event: Event
    picks: list[Event]
    is_out: bool


@dataclass(frozen=True)
class Picked:
    """The ids of picks inside a wait, and of those for which no wait is known."""

    held: set[str]
    doubt: set[str]


def keeping(context: Context, rule: Rule) -> list[Finding]:
    """One finding for each lot that is still in the store."""
    lots = [lot for lot in lots_of(context) if not lot.is_out]
    if not lots:
        return []
    declined, prefix = context.declined, key_prefix(context, rule)
    picked = Picked(_picked_in_a_wait(context), _picked_in_doubt(context))
    return [
        _of_lot(context, rule, lot, picked)
        for lot in lots
        if prefix + str(lot.event["id"]) not in declined
    ]


def lots_of(context: Context) -> list[Lot]:
    """Every lot of the planting, the oldest first, with the picks since the lot before it."""
    own_id = (context.view["planting"] or {}).get("id")
    stored, picks = (
        [event for event in find(context, {"kind": kind}) if event.get("planting") == own_id]
        for kind in ("store", "pick")
    )
    return _lots(stored, picks)


def has_lot(events: Sequence[Event]) -> bool:
    """Is something still in the store, by all that a planting's events say?"""
    stored = [event for event in events if event["kind"] == "store"]
    return any(not lot.is_out for lot in _lots(stored, []))


def _lots(own: list[Event], picks: list[Event]) -> list[Lot]:
    put_in = [event for event in own if _step(event) == "in" and _amount(event) is not None]
    taken = [event for event in own if _step(event) == "out"]
    left = {unit: _total(taken, unit) for unit in UNITS}
    lots, since = [], 0
    for event in put_in:
        unit, size = _amount(event) or ("", 0.0)
        is_out = size <= left[unit]
        left[unit] = left[unit] - size if is_out else 0.0
        own_picks = [pick for pick in picks if since < pick["instant"] <= event["instant"]]
        lots.append(Lot(event, own_picks, is_out))
        since = event["instant"]
    return lots


def _step(event: Event) -> str:
    """Whether it was put in, taken out or looked over; in earlier entries it was put in."""
    return text(event["details"].get("step")) or "in"


def _amount(event: Event) -> tuple[str, float] | None:
    for unit in UNITS:
        size = number(event["details"].get(unit))
        if size is not None:
            return unit, size
    return None


def _total(events: list[Event], unit: str) -> float:
    total = 0.0
    for event in events:
        amount = _amount(event)
        if amount is not None and amount[0] == unit:
            total += amount[1]
    return total


def _waits_before_picking(context: Context) -> list[Rule]:
    """Rules that withhold picking; what only warns of it spoils no fruit."""
    return [
        rule
        for rule in context.rulebook["rules"]
        if rule["shape"] == "withhold"
        and "pick" in rule["params"]["blocks"]
        and "softly" not in rule["params"]
    ]


def _picked_in_a_wait(context: Context) -> set[str]:
    """The ids of picks that a wait forbade, and that nobody has decided about."""
    return {
        entry
        for rule in _waits_before_picking(context)
        for made in withhold(context, rule)
        if made["state"] == "flagged"
        for entry in made["entries"]
    }


def _picked_in_doubt(context: Context) -> set[str]:
    """The ids of picks after something whose wait nobody wrote down."""
    rules = _waits_before_picking(context)
    return {entry for rule in rules for entry in in_doubt(context, rule, "pick")}


def _of_lot(context: Context, rule: Rule, lot: Lot, picked: Picked) -> Finding:
    place = text(lot.event["details"].get("place")) or ""
    values = {"store_place": place, "in_day": lot.event["day"]}
    for why, ids in (("held", picked.held), ("doubt", picked.doubt)):
        questioned = [pick for pick in lot.picks if pick["id"] in ids]
        if questioned:
            return _made(context, rule, lot, why, values, [], questioned)
    form = text(lot.event["details"].get("form")) or "fresh"
    if form != "fresh":
        return _made(context, rule, lot, "recipe", values, [], [])
    return _of_fresh(context, rule, lot, values)


def _of_fresh(context: Context, rule: Rule, lot: Lot, values: dict[str, object]) -> Finding:
    crop = (context.view["planting"] or {}).get("crop")
    low = number(crop_fact(context, crop, "keep_days_low"))
    high = number(crop_fact(context, crop, "keep_days_high"))
    coolest = number(crop_fact(context, crop, "keep_low_c"))
    warmest = number(crop_fact(context, crop, "keep_high_c"))
    if low is None or high is None or coolest is None or warmest is None:
        return _made(context, rule, lot, "no_days", values, [], [])
    measured = _measured(context, str(values["store_place"]), lot, "temperature_c")
    bounds = {"low_c": coolest, "high_c": warmest}
    if measured is None:
        return _made(context, rule, lot, "no_temperature", values | bounds, [], [])
    at, event = measured
    why = [reason("keeping.measured", place_c=at, measured_instant=event["instant"])]
    chill = number(crop_fact(context, crop, "chill_below_c"))
    if chill is not None and at < chill:
        cold = values | {"place_c": at, "chill_c": chill}
        return _made(context, rule, lot, "chilled", cold, why, [event])
    if not coolest <= at <= warmest:
        outside = values | bounds | {"place_c": at}
        return _made(context, rule, lot, "outside", outside, why, [event])
    why.append(reason("keeping.days", low_days=low, high_days=high, **bounds))
    why += _humidity(context, crop, lot, str(values["store_place"]))
    return _window(context, rule, lot, (int(low), int(high)), why, [event], values)


def _window(
    context: Context,
    rule: Rule,
    lot: Lot,
    span: tuple[int, int],
    why: list[Reason],
    events: list[Event],
    values: dict[str, object],
) -> Finding:
    """Due from the shorter of the published days on, late after the longer."""
    first, last = lot.event["day"] + span[0], lot.event["day"] + span[1]
    today = context.today
    state = "upcoming" if today < first else "due" if today <= last else "overdue"
    told = values | {"first_day": first, "last_day": last}
    made = finding(context, rule, lot.event["id"], state, told, why, [lot.event, *events])
    return made | {"opens": first, "due": first, "closes": last}


def _humidity(context: Context, crop: object, lot: Lot, place: str) -> list[Reason]:
    """A word about the air, where both the crop's range and the store's figure are known."""
    low = number(crop_fact(context, crop, "keep_humidity_low_percent"))
    high = number(crop_fact(context, crop, "keep_humidity_high_percent"))
    measured = _measured(context, place, lot, "humidity_percent")
    if low is None or high is None or measured is None:
        return []
    key = "keeping.air" if low <= measured[0] <= high else "keeping.air_outside"
    return [reason(key, air_percent=measured[0], low_percent=low, high_percent=high)]


def _measured(context: Context, place: str, lot: Lot, field: str) -> tuple[float, Event] | None:
    """The last figure of the place since the lot went in, whoever's fruit it was written with."""
    for event in reversed(find(context, {"kind": "store"})):
        if event["instant"] < lot.event["instant"]:
            break
        figure = number(event["details"].get(field))
        if figure is not None and event["details"].get("place") == place:
            return figure, event
    return None


STATE_OF = {
    "held": "flagged",
    "doubt": "unknown",
    "chilled": "flagged",
    "recipe": "unknown",
    "no_days": "unknown",
    "no_temperature": "unknown",
    "outside": "unknown",
}


def _made(
    context: Context,
    rule: Rule,
    lot: Lot,
    why: str,
    values: dict[str, object],
    reasons: list[Reason],
    events: list[Event],
) -> Finding:
    made = finding(
        context,
        rule,
        lot.event["id"],
        STATE_OF[why],
        values,
        [*reasons, reason(f"keeping.{why}", **values)],
        [lot.event, *events],
    )
    made["message"] = {"key": f"keeping.{why}", "values": dict(values)}
    return made
