"""Troubles of the soil that stay on a bed's page for years, and for how long its hosts stay out."""

from typing import Any

from shedbook.log.moment import add_years
from shedbook.rules.finding import Finding, finding, reason
from shedbook.rules.hosts import advice, hosts_of, last_host, troubles_seen, years_apart
from shedbook.rules.match import Context, Event, Rule, text


def soil_spots(context: Context, rule: Rule) -> list[Finding]:
    """A note for each trouble that was seen in the bed; unknown where no years are known."""
    found = [
        _of_trouble(context, rule, trouble, seen)
        for trouble, seen in sorted(troubles_seen(context).items())
    ]
    found += [
        _not_listed(context, rule, event)
        for event in context.by_kind.get("spot", [])
        if event.get("bed") == context.view["bed"]["id"]
        and text(event["details"].get("trouble")) is not None
        and event["details"]["trouble"] not in hosts_of(context)
    ]
    return [made for made in found if made["key"] not in context.declined]


def _of_trouble(context: Context, rule: Rule, trouble: str, seen: list[Event]) -> Finding:
    stood = [one for one in context.view["residents"] if one.get("from_day") is not None]
    since, by = last_host(context, trouble, seen, stood)
    values: dict[str, Any] = {
        "trouble": trouble,
        "seen_day": seen[0]["day"],
        "last_day": seen[-1]["day"],
        "spots": len([event for event in seen if event["kind"] == "spot"]),
    }
    why = [reason("spots.seen", **values)]
    years = years_apart(context, rule, trouble)
    if by is not None and by.get("until_day") is None:
        says, state = "stands", "noted"
        why.append(reason("soil.host_stands", other_planting=by["id"], trouble=trouble))
    elif years is None:
        says, state = "unknown", "unknown"
        why.append(reason("soil.set_years"))
    else:
        values |= {"years": years, "since_day": since, "free_day": add_years(since, years)}
        says = "running" if context.today < values["free_day"] else "passed"
        state = "noted"
        why.append(reason("spots.counted", **values))
    why += [*advice(context, rule, trouble), reason("spots.stays")]
    proof = [*seen, *([] if by is None else [by])]
    made = finding(context, rule, trouble, state, values, why, proof)
    made["message"]["key"] = f"spots.{says}"
    return made


def _not_listed(context: Context, rule: Rule, event: Event) -> Finding:
    """A place was marked for a trouble whose hosts are not known here."""
    values = {"trouble": event["details"]["trouble"], "seen_day": event["day"]}
    why = [reason("spots.not_listed", **values)]
    made = finding(context, rule, event["id"], "unknown", values, why, [event])
    made["message"]["key"] = "spots.not_listed"
    return made
