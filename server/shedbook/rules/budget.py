"""A season's nitrogen of one planting against the rates that were published for its crop.

Sources differ, so each is told; above all of them it is flagged, and the garden's own limit goes
before them. Compost and fertilizer before planting are two meals, and are flagged together.
"""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from shedbook.agronomy.customary import (
    lb_per_acre,
    rate_from_lb_per_1000_ft2,
    rate_from_lb_per_acre,
)
from shedbook.rules.finding import Finding, Reason, finding, name_plants, reason
from shedbook.rules.match import (
    Context,
    Event,
    Rule,
    crop_fact,
    days,
    has_ended,
    limit,
    live_plants,
    number,
    text,
)
from shedbook.rules.nitrogen import Account, Given, account_of, feeds_of, given_by
from shedbook.rules.timing import start_day

COMPOST = ("compost", "composted_manure", "raw_manure")
TO_KG_PER_HA: Mapping[str, Callable[[float], float]] = {
    "kg_per_ha": float,
    "lb_per_acre": rate_from_lb_per_acre,
    "lb_per_1000_ft2": rate_from_lb_per_1000_ft2,
}
LARGEST_RATE = 10_000


class Published(NamedTuple):
    """A rate in kg/ha, and who says so."""

    low: float
    high: float
    source: str


def budget(context: Context, rule: Rule) -> list[Finding]:
    """The account, where anything was given; and compost with fertilizer before planting."""
    planting = context.view["planting"]
    start = start_day(planting)
    if start is None or has_ended(planting, context.today):
        return []
    feeds = feeds_of(context, planting, start - days(context, rule, "before_days"))
    found = [_account(context, rule, feeds), _both(context, rule, feeds, start)]
    return [made for made in found if made is not None and made["key"] not in context.declined]


def _account(context: Context, rule: Rule, feeds: list[Event]) -> Finding | None:
    if not feeds:
        return None
    planting = context.view["planting"]
    account = account_of(context, planting, feeds)
    published = published_for(context, planting.get("crop"))
    most = _most(context, rule, published)
    state = _state(account, most)
    values: dict[str, Any] = {"entries": len(account.uncounted)}
    if account.given:
        values |= _rates(account.low, account.high)
    if state == "flagged":
        values["limit_kg_per_ha"] = most
    why = [_given_reason(one) for one in account.given]
    why += _grams_reason(account)
    why += [_published_reason(one) for one in published]
    why += _limit_reasons(context, rule, account, published, most)
    why += _gaps(account)
    proof = [one.event for one in account.given + account.uncounted]
    made = finding(context, rule, "season", state, values, why, proof)
    if state == "noted" and (account.low != account.high or account.uncounted):
        made["message"]["key"] += "_between" if account.low != account.high else "_at_least"
    if account.plants:
        name_plants(made, account.plants, live_plants(planting, context.today))
    return made


def _state(account: Account, most: float | None) -> str:
    """Unknown where nothing counts, or where the weights of two sources fall on either side."""
    if not account.given:
        return "unknown"
    if most is None or account.high <= most:
        return "noted"
    return "flagged" if account.low > most else "unknown"


def published_for(context: Context, crop: Any) -> list[Published]:
    """Rates for the crop, in SI; what a garden's own crop says oddly is passed over."""
    told = crop_fact(context, crop, "n_published")
    found = [_published(one) for one in told] if isinstance(told, list) else []
    return [one for one in found if one is not None]


def _published(told: Any) -> Published | None:
    if not isinstance(told, list) or len(told) != 4:
        return None
    unit, source = text(told[0]), text(told[3])
    low, high = number(told[1]), number(told[2])
    to_si = None if unit is None else TO_KG_PER_HA.get(unit)
    if to_si is None or source is None or low is None or high is None:
        return None
    if not 0 <= low <= high <= LARGEST_RATE:
        return None
    return Published(to_si(low), to_si(high), source)


def _most(context: Context, rule: Rule, published: list[Published]) -> float | None:
    """The garden's own limit, else the highest of those that were published."""
    own = limit(context, rule, "high_kg_per_ha")
    if own is not None:
        return own
    return max((one.high for one in published), default=None)


def _rates(low: float, high: float) -> dict[str, float]:
    return {
        "low_kg_per_ha": low,
        "high_kg_per_ha": high,
        "low_lb_per_acre": lb_per_acre(low),
        "high_lb_per_acre": lb_per_acre(high),
    }


def _given_reason(given: Given) -> Reason:
    """One meal; its range is told where two sources weigh the product differently."""
    key = "budget.given" if given.low == given.high else "budget.given_between"
    return reason(key, done_day=given.event["day"], **_rates(given.low, given.high))


def _grams_reason(account: Account) -> list[Reason]:
    if not account.given or account.low_g is None:
        return []
    key = "budget.plant" if account.low_g == account.high_g else "budget.plant_between"
    return [reason(key, low_g=account.low_g, high_g=account.high_g)]


def _published_reason(one: Published) -> Reason:
    key = "budget.published" if one.low == one.high else "budget.published_between"
    return reason(key, source=one.source, **_rates(one.low, one.high))


def _limit_reasons(
    context: Context, rule: Rule, account: Account, published: list[Published], most: float | None
) -> list[Reason]:
    if most is None:
        return [reason("budget.none_published")]
    told = []
    if limit(context, rule, "high_kg_per_ha") is not None:
        told.append(reason("budget.own_limit", limit_kg_per_ha=most))
    if account.given and account.low <= most < account.high:
        told.append(reason("budget.either_side", limit_kg_per_ha=most))
    elif account.low > most:
        told.append(reason("budget.too_much"))
    elif published and account.given:
        told.append(reason("budget.room"))
    return told


def _gaps(account: Account) -> list[Reason]:
    """What was given and could not be counted, and what would let it count."""
    told = []
    for why in ("no_grade", "no_amount", "no_area", "no_sense"):
        entries = len([one for one in account.uncounted if one.why == why])
        if entries:
            told.append(reason(f"budget.{why}", entries=entries))
    return told


def _both(context: Context, rule: Rule, feeds: list[Event], start: int) -> Finding | None:
    """Compost and fertilizer with nitrogen, both before planting."""
    before = [event for event in feeds if event["day"] <= start]
    compost = [event for event in before if _is_compost(event)]
    other = [
        event
        for event in before
        if not _is_compost(event) and (number(event["details"].get("n_percent")) or 0) > 0
    ]
    if not compost or not other:
        return None
    why = []
    for event in compost:
        depth = number(event["details"].get("depth_mm"))
        key = "budget.compost" if depth is None else "budget.compost_depth"
        why.append(reason(key, done_day=event["day"], depth_mm=depth))
    given = [given_by(context, event) for event in other]
    why += [
        _given_reason(one)
        if one.why == ""
        else reason("budget.fertilizer", done_day=one.event["day"])
        for one in given
    ]
    why.append(reason("budget.one_is_enough"))
    made = finding(context, rule, "both", "flagged", {}, why, [*compost, *other])
    made["message"]["key"] = f"{rule.get('says', rule['shape'])}.both"
    return made


def _is_compost(event: Event) -> bool:
    details = event["details"]
    return details.get("material") == "compost" or details.get("origin") in COMPOST
