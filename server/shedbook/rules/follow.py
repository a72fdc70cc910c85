"""What follows well or badly in a bed: another question than what stands well beside."""

from shedbook.rules.beside import is_of, told_of_pair
from shedbook.rules.finding import Finding, key_prefix, reason
from shedbook.rules.hosts import troubles_seen
from shedbook.rules.match import Context, Json, Planting, Rule, days, has_ended
from shedbook.rules.timing import start_day


def follow(context: Context, rule: Rule) -> list[Finding]:
    """For each planting that left the bed not long before: a note or a flag, if the row has one."""
    planting = context.view["planting"]
    start = start_day(planting)
    if start is None or context.view["bed"] is None or has_ended(planting, context.today):
        return []
    found = []
    within = days(context, rule, "within_days")
    for other in context.view["residents"]:
        until = other.get("until_day")
        if until is None or until > start or until < start - within:
            continue
        pair = _pair(context, rule, planting, other)
        if pair is None or key_prefix(context, rule) + other["id"] in context.declined:
            continue
        why = [reason("follow.after", other_planting=other["id"], until_day=until)]
        if "trouble" in pair:
            seen = troubles_seen(context)[pair["trouble"]][-1]
            why.append(
                reason(
                    "soil.seen",
                    trouble=pair["trouble"],
                    seen_day=seen["day"],
                    kind=seen["kind"],
                )
            )
        found.append(told_of_pair(context, rule, pair, other, why))
    return found


def _pair(context: Context, rule: Rule, one: Planting, other: Planting) -> Json | None:
    for pair in rule["params"]["pairs"]:
        if "trouble" in pair and pair["trouble"] not in troubles_seen(context):
            continue
        if is_of(context, pair, "", one) and is_of(context, pair, "after_", other):
            found: Json = pair
            return found
    return None
