"""What a water account's answer rests on, in keys and numbers, and what would change it."""

from collections.abc import Mapping, Sequence
from typing import Any

from shedbook.rules.finding import Reason, reason
from shedbook.rules.match import Context, Event, Planting, Rule, limit, text
from shedbook.rules.water_account import WEEK_DAYS, Account, Line, Needs
from shedbook.rules.water_outlook import depletion_after


def reasons_for_needs(account: Needs) -> list[Reason]:
    """What must be given before the account can be kept, one line each."""
    why = []
    for need in account.names:
        if need in ("temperature", "rain"):
            why.append(reason(f"balance.needs_{need}", missing_day=account.missing_day))
        elif need == "crop":
            why += _without_facts(account.without_facts)
        else:
            why.append(reason(f"balance.needs_{need}"))
    return why


def reasons_of(
    context: Context,
    rule: Rule,
    account: Account,
    state: str,
    last: Event | None,
    values: Mapping[str, Any],
) -> list[Reason]:
    """Every number that went into the answer."""
    ground = account.keeper.ground
    why = [_ends(account, state), _since(account, last), _thirst(account)]
    why += [_held(account), _outlook(account, values)]
    if "duration_min" in values:
        minutes, flow = values["duration_min"], ground.flow_l_per_min
        why.append(reason("balance.minutes", duration_min=minutes, flow_l_per_min=flow))
    why.append(reason(f"balance.start_{account.start}", start_day=account.lines[0]["day"]))
    why += _days(account.lines)
    why += _unsure(context, rule, account)
    why += _without_facts(account.without_facts)
    if state == "unknown":
        where = "container" if ground.is_container else "bed"
        why.append(reason(f"balance.answer_{where}"))
    return why


def _ends(account: Account, state: str) -> Reason:
    now = account.lines[-1]
    # A small dry store may have lost less than a large wet one holds.
    ends = {
        "low_mm": min(now["wet_mm"], now["dry_mm"]),
        "high_mm": max(now["wet_mm"], now["dry_mm"]),
        "low_raw_mm": now["dry_raw_mm"],
        "high_raw_mm": now["wet_raw_mm"],
    }
    return reason("balance.spans" if state == "unknown" else "balance.range", **ends)


def _since(account: Account, last: Event | None) -> Reason:
    """What came and went since the last watering, or since the account began."""
    start: int = account.lines[0]["day"]
    is_watered = last is not None and last["day"] >= start
    day = last["day"] if last is not None and is_watered else start
    used, rain, given = 0.0, 0.0, 0.0
    for line in account.lines:
        if line["day"] >= day:
            used += line["used_mm"]
            rain += line["rain_mm"]
            given += line["given_mm"]
    key = "balance.since_water" if is_watered else "balance.since_start"
    return reason(key, since_day=day, used_mm=used, rain_mm=rain, given_mm=given)


def _thirst(account: Account) -> Reason:
    keeper, loss = account.keeper, account.mean_et0_mm
    key = "balance.thirst_several" if len(keeper.thirsts) > 1 else "balance.thirst"
    demand = keeper.demand(account.lines[-1]["day"])
    factor = demand.kc * keeper.ground.crown_factor
    return reason(key, kc=factor, et0_mm=loss, day_mm=keeper.thirst(demand, loss))


def _held(account: Account) -> Reason:
    now, keeper = account.lines[-1], account.keeper
    held = {"taw_mm": now["taw_mm"], "raw_mm": now["raw_mm"]}
    if keeper.ground.is_container:
        return reason("balance.held_container", **held)
    return reason("balance.held", root_mm=keeper.demand(now["day"]).root_m * 1000, **held)


def _outlook(account: Account, values: Mapping[str, Any]) -> Reason:
    """Seven days with neither rain nor water, each as thirsty as the last seven."""
    if "reach_day" in values:
        return reason("balance.reached", reach_day=values["reach_day"])
    gone = depletion_after(account, WEEK_DAYS)
    return reason("balance.week", week_mm=gone, taw_mm=account.lines[-1]["taw_mm"])


def _days(lines: Sequence[Line]) -> list[Reason]:
    """Of the days gone by: how many held growth back, and how many were evenly moist."""
    stress, even = 0, 0
    for line in lines[:-1]:
        stress += 1 if line["ks"] < 1 else 0
        is_even = line["depletion_mm"] <= line["raw_mm"] and line["surely_drained_mm"] == 0
        even += 1 if is_even else 0
    count = len(lines) - 1
    if count == 0:
        return []
    share = even / count
    return [
        reason("balance.stress", stress_days=stress, account_days=count),
        reason("balance.even", even_share=share, account_days=count),
    ]


def _unsure(context: Context, rule: Rule, account: Account) -> list[Reason]:
    """What makes the two ends differ beside the soil."""
    why = []
    filled, unmeasured = 0, 0
    for line in account.lines:
        filled += 1 if line["is_filled"] else 0
        unmeasured += 0 if line["is_measured"] else 1
    if filled:
        error = limit(context, rule, "fill_error_c")
        why.append(reason("balance.filled", filled_days=filled, error_k=error))
    if unmeasured:
        why.append(reason("balance.unmeasured", water_days=unmeasured))
    ground = account.keeper.ground
    if ground.wetted_share < 1:
        why.append(reason("balance.wetted", wetted_share=ground.wetted_share))
    if not ground.says_wetted:
        why.append(reason("balance.wetted_unsaid"))
    return why


def _without_facts(plantings: Sequence[Planting]) -> list[Reason]:
    crops: list[str | None] = []
    for planting in plantings:
        crop = text(planting.get("crop"))
        if crop not in crops:
            crops.append(crop)
    return [reason("balance.no_facts", crop=crop) for crop in crops]
