"""Crops that are kept apart, in one bed or in beds side by side."""

from shedbook.rules.finding import Finding, finding, key_prefix, reason
from shedbook.rules.match import Context, Json, Planting, Rule, days, family_of, has_ended
from shedbook.rules.rest import day_of, start_day


def beside(context: Context, rule: Rule) -> list[Finding]:
    """A flag for each planting near by that the rule keeps apart and whose time overlaps."""
    planting = context.view["planting"]
    mine = _time(context, rule, planting)
    if mine is None:
        return []
    found = []
    near = [(one, "same_bed") for one in context.view["residents"]]
    near += [(one, "next_bed") for one in context.view["neighbours"]]
    for other, where in near:
        pair = _pair(context, rule, planting, other)
        theirs = _time(context, rule, other)
        if pair is None or theirs is None or other["id"] == planting["id"]:
            continue
        start, end = max(mine[0], theirs[0]), min(mine[1], theirs[1])
        if start >= end or key_prefix(context, rule) + other["id"] in context.declined:
            continue
        values = {"crop": planting["crop"], "other_crop": other["crop"]}
        values["other_planting"] = other["id"]
        why = [
            reason(f"beside.{where}", other_planting=other["id"], start_day=start),
            reason(f"beside.{pair['reason']}"),
        ]
        found.append(finding(context, rule, other["id"], "flagged", values, why, [planting, other]))
    return found


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


def _pair(context: Context, rule: Rule, one: Planting, other: Planting) -> Json | None:
    for pair in rule["params"]["pairs"]:
        for left, right in ((one, other), (other, one)):
            if _is(context, pair, "", left) and _is(context, pair, "against_", right):
                found: Json = pair
                return found
    return None


def _is(context: Context, pair: Json, side: str, planting: Planting) -> bool:
    crop = pair.get(f"{side}crop")
    if crop is not None:
        return bool(planting.get("crop") == crop)
    family = pair.get(f"{side}family")
    return family is not None and family_of(context, planting) == family
