"""Years between crops of one family in the same bed, and other rests of a bed."""

from collections.abc import Callable
from typing import Any

from shedbook.log.moment import add_years
from shedbook.rules.finding import Finding, finding, key_prefix, reason
from shedbook.rules.hosts import MOST_YEARS
from shedbook.rules.match import Context, Planting, Rule, days, family_of, has_ended
from shedbook.rules.soil_rest import shared_hosts, soil_rest
from shedbook.rules.timing import start_day


def rest(context: Context, rule: Rule) -> list[Finding]:
    """What the row matches: crops of one family, hosts of a trouble that was seen, shared hosts."""
    return _MATCHES[rule["params"]["match"]](context, rule)


def _family_rest(context: Context, rule: Rule) -> list[Finding]:
    """A flag for each earlier planting of the family; unknown where the log is too young to say."""
    planting = context.view["planting"]
    start = start_day(planting)
    if start is None or context.view["bed"] is None or has_ended(planting, context.today):
        return []
    years = min(days(context, rule, "years"), MOST_YEARS)
    season = days(context, rule, "same_season_days")
    earlier = [
        other
        for other in context.view["residents"]
        if other["id"] != planting["id"]
        and other.get("from_day") is not None
        and other["from_day"] < start - season
        and _frees_on(other, years, start) > start
    ]
    family = family_of(context, planting)
    flags = [
        _flag(context, rule, other, start, years)
        for other in earlier
        if family is not None and family_of(context, other) == family
    ]
    declined = context.declined
    prefix = key_prefix(context, rule)
    if flags:
        return [made for made in flags if made["key"] not in declined]
    why = _why_unknown(context, family, earlier, start, years)
    if why is None or f"{prefix}unknown" in declined:
        return []
    values = {"years": years}
    return [finding(context, rule, "unknown", "unknown", values, [why], [planting])]


def _frees_on(other: Planting, years: int, start: int) -> int:
    """The first day on which the bed has rested from it; after `start` while it still stands."""
    until: int | None = other.get("until_day")
    return start + 1 if until is None else add_years(until, years)


def _flag(context: Context, rule: Rule, other: Planting, start: int, years: int) -> Finding:
    planting = context.view["planting"]
    until = other.get("until_day")
    values: dict[str, Any] = {
        "family": family_of(context, other),
        "other_planting": other["id"],
        "start_day": start,
        "years": years,
    }
    if until is None:
        key, why = "rest.stands", reason("rest.stands", **values, since_day=other["from_day"])
    else:
        values |= {"until_day": until, "free_day": add_years(until, years)}
        key, why = "rest.flagged", reason("rest.until", **values)
    whys = [why, *_advised(context, rule)]
    made = finding(context, rule, other["id"], "flagged", values, whys, [planting, other])
    made["message"]["key"] = key
    return made


def _why_unknown(
    context: Context, family: str | None, earlier: list[Planting], start: int, years: int
) -> Any:
    if family is None:
        return reason("rest.no_family")
    for other in earlier:
        if family_of(context, other) is None:
            return reason("rest.other_no_family", other_planting=other["id"])
    first = _first_day(context)
    wanted = add_years(start, -years)
    if first is None or first > wanted:
        return reason("rest.young_log", wanted_day=wanted, years=years)
    return None


def _first_day(context: Context) -> int | None:
    """The first day that the bed's log tells of."""
    bed = context.view["bed"]["id"]
    logged = next((event["day"] for event in context.events if event.get("bed") == bed), None)
    stood = [
        one["from_day"] for one in context.view["residents"] if one.get("from_day") is not None
    ]
    return min(stood if logged is None else [logged, *stood], default=None)


def _advised(context: Context, rule: Rule) -> list[Any]:
    """What sources say of the years for this crop."""
    crop = context.view["planting"].get("crop")
    return [
        reason("rest.advised", crop=crop, years=one["years"], source=one["source"])
        for one in rule["params"].get("advised", [])
        if crop in one["crops"]
    ]


_MATCHES: dict[str, Callable[[Context, Rule], list[Finding]]] = {
    "family": _family_rest,
    "hosts": soil_rest,
    "shared": shared_hosts,
}
