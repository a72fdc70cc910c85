"""Crops that are kept apart or grown together, in one bed or in beds side by side."""

from shedbook.rules.finding import Finding, Reason, finding, key_prefix, reason
from shedbook.rules.match import Context, Json, Planting, Rule, days, family_of, has_ended
from shedbook.rules.timing import day_of, start_day


def beside(context: Context, rule: Rule) -> list[Finding]:
    """For each planting near by whose time overlaps: a flag if kept apart, a note if welcome."""
    planting = context.view["planting"]
    mine = _time(context, rule, planting)
    if mine is None:
        return []
    found = []
    near = [(one, "same_bed") for one in context.view["residents"]]
    near += [(one, "next_bed") for one in context.view["neighbours"]]
    for other, where in near:
        theirs = _time(context, rule, other)
        if theirs is None or other["id"] == planting["id"]:
            continue
        pair = pair_of(context, rule, planting, other)
        if pair is None:
            continue
        start, end = max(mine[0], theirs[0]), min(mine[1], theirs[1])
        if start >= end or key_prefix(context, rule) + other["id"] in context.declined:
            continue
        why = [reason(f"beside.{where}", other_planting=other["id"], start_day=start)]
        found.append(told_of_pair(context, rule, pair, other, why))
    return found


def pair_of(context: Context, rule: Rule, one: Planting, other: Planting) -> Json | None:
    """The first pair of the row that the two make, whichever of them comes first."""
    for pair in rule["params"]["pairs"]:
        for left, right in ((one, other), (other, one)):
            if is_of(context, pair, "", left) and is_of(context, pair, "against_", right):
                found: Json = pair
                return found
    return None


def is_of(context: Context, pair: Json, side: str, planting: Planting) -> bool:
    """Is the planting of the crop or family on that side of the pair?"""
    crop = pair.get(f"{side}crop")
    if crop is not None:
        return bool(planting.get("crop") == crop)
    family = pair.get(f"{side}family")
    return family is not None and family_of(context, planting) == family


def told_of_pair(
    context: Context, rule: Rule, pair: Json, other: Planting, why: list[Reason]
) -> Finding:
    """A flag or, where the two do each other good, a note; with who says so."""
    planting = context.view["planting"]
    values = {
        "crop": planting.get("crop"),
        "other_crop": other.get("crop"),
        "other_planting": other["id"],
        "evidence": pair["grade"],
    }
    why = [
        *why,
        reason(f"beside.{pair['reason']}"),
        reason("beside.by", evidence=pair["grade"], source=pair["source"]),
    ]
    state = "noted" if pair.get("good") is True else "flagged"
    made = finding(context, rule, other["id"], state, values, why, [planting, other])
    return made | {"settles": None} if state == "noted" else made


def _time(context: Context, rule: Rule, planting: Planting) -> tuple[int, int] | None:
    """First and last day, None if over or never set; an open end is taken from the row."""
    start = start_day(planting)
    if start is None or has_ended(planting, context.today):
        return None
    end = planting.get("until_day")
    if end is None:
        end = day_of(planting, "ended_on")
    if end is None:
        end = start + days(context, rule, "assumed_days")
        if planting.get("from_day") is not None:
            end = max(end, context.today + 1)
    return start, end
