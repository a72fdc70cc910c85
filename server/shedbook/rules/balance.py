"""Whether a bed needs water: its root zone's account against the share of water that may go."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from shedbook.agronomy.watering import litres_to_refill, minutes_to_give
from shedbook.rules.finding import Finding, Reason, finding, reason
from shedbook.rules.match import Context, Event, Rule, limit
from shedbook.rules.water_account import (
    WEEK_DAYS,
    Account,
    Line,
    Needs,
    account_of,
    last_watering,
)
from shedbook.rules.water_outlook import day_reached
from shedbook.rules.water_reasons import reasons_for_needs, reasons_of

# Depths are compared in tenths of a millimetre, so that no last bit decides.
STEPS = 10
WHOLE_LITRES_FROM = 10


def balance(context: Context, rule: Rule) -> list[Finding]:
    """Give so much now, or give none for so many days; unknown where the two ends differ."""
    account = account_of(context, rule)
    if account is None:
        return []
    if isinstance(account, Needs):
        why = reasons_for_needs(account)
        found: list[Finding | None] = [_made(context, rule, "account", "unknown", {}, why, [])]
    else:
        last = last_watering(context)
        found = [_state(context, rule, account, last), _too_much(context, rule, account, last)]
    return [made for made in found if made and made["key"] not in context.declined]


def suggested_litres(account: Account, line: Line) -> float:
    """What fills the bed again, as one would measure it out."""
    # The depletion is told over the whole bed already.
    litres = litres_to_refill(line["depletion_mm"], account.keeper.ground.area_m2, 1)
    steps = 1 if litres >= WHOLE_LITRES_FROM else STEPS
    return math.floor(litres * steps + 0.5) / steps


def _tenths(depth_mm: float) -> int:
    """A depth in whole tenths of a millimetre."""
    return math.floor(depth_mm * STEPS + 0.5)


def _late_days_of(lines: Sequence[Line]) -> int:
    """Days in a row up to yesterday that ended with all gone that may go."""
    late = 0
    for line in reversed(lines[:-1]):
        if _tenths(line["depletion_mm"]) < _tenths(line["raw_mm"]):
            break
        late += 1
    return late


def _state(context: Context, rule: Rule, account: Account, last: Event | None) -> Finding:
    now = account.lines[-1]
    ordinal = last["id"] if last else "start"
    proof = [last] if last else []
    is_due_dry = _tenths(now["dry_mm"]) >= _tenths(now["dry_raw_mm"])
    is_due_wet = _tenths(now["wet_mm"]) >= _tenths(now["wet_raw_mm"])
    values: dict[str, Any] = {"depletion_mm": now["depletion_mm"], "raw_mm": now["raw_mm"]}
    if is_due_dry != is_due_wet:
        state = "unknown"
    elif is_due_dry:
        values |= _amount(account, now)
        late = _late_days_of(account.lines)
        state = "overdue" if late > (limit(context, rule, "late_after_days") or 0) else "due"
        values["late_days"] = late
    else:
        state = "noted"
        values["left_mm"] = max(now["raw_mm"] - now["depletion_mm"], 0)
        reached = day_reached(account)
        if reached is not None:
            values["reach_day"] = reached
    why = reasons_of(context, rule, account, state, last, values)
    made = _made(context, rule, ordinal, state, values, why, proof)
    if "late_days" in values:
        made["opens"] = made["due"] = context.today - values["late_days"]
    return made


def _amount(account: Account, now: Line) -> dict[str, float]:
    litres = suggested_litres(account, now)
    flow = account.keeper.ground.flow_l_per_min
    if flow is None:
        return {"volume_l": litres}
    minutes = math.floor(minutes_to_give(litres, flow) + 0.5)
    return {"volume_l": litres, "duration_min": max(minutes, 1)}


def _too_much(context: Context, rule: Rule, account: Account, last: Event | None) -> Finding | None:
    """More than the roots could reach, some of it given by hand, in the last seven days."""
    week = account.lines[-1 - WEEK_DAYS : -1]
    full, drained, given, rain = 0, 0.0, 0.0, 0.0
    for line in week:
        full += 1 if _tenths(line["surely_drained_mm"]) > 0 else 0
        drained += line["surely_drained_mm"]
        given += line["given_mm"]
        rain += line["rain_mm"]
    most_days = limit(context, rule, "full_days")
    most_mm = limit(context, rule, "drained_mm")
    over = (most_days is not None and full >= most_days > 0) or (
        most_mm is not None and drained >= most_mm > 0
    )
    if last is None or given == 0 or not over:
        return None
    values = {
        "full_days": full,
        "drained_mm": drained,
        "given_mm": given,
        "rain_mm": rain,
        "limit_days": most_days,
        "limit_mm": most_mm,
    }
    why = [reason("balance.too_much", **values)]
    return _made(context, rule, f"full.{last['id']}", "flagged", values, why, [last])


def _made(
    context: Context,
    rule: Rule,
    ordinal: str,
    state: str,
    values: Mapping[str, Any],
    why: Sequence[Reason],
    proof: Sequence[Event],
) -> Finding:
    made = finding(context, rule, ordinal, state, values, why, proof)
    if state not in ("due", "overdue"):
        made["settles"] = None
    return made
