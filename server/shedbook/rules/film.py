"""A bed under film that the sun heats: taken for weeks, and with no promise of what it does."""

from typing import Any, NamedTuple

from shedbook.rules.finding import Finding, Reason, finding, reason
from shedbook.rules.match import Context, Event, Rule, days, number, text
from shedbook.rules.timing import start_day

WEEK_DAYS = 7
MOST_WEEKS = 520


class Laid(NamedTuple):
    """The entry that laid the film, and the day on which it was lifted, if it was."""

    event: Event
    lifted: int | None


def film(context: Context, rule: Rule) -> list[Finding]:
    """On the bed how long the film lies, on a planting that it is planned or stands under it."""
    if context.view["bed"] is None:
        return []
    spans = _spans(context)
    if context.view["kind"] == "planting":
        return [
            made
            for span in spans
            if (made := _under(context, rule, span)) is not None
            and made["key"] not in context.declined
        ]
    lying = [span for span in spans if span.lifted is None]
    return [_lying(context, rule, span) for span in lying]


def _spans(context: Context) -> list[Laid]:
    """Each laying with the lifting that ended it; one laid over another ends that one."""
    bed = context.view["bed"]["id"]
    spans: list[Laid] = []
    for event in context.by_kind.get("solarise", []):
        if event.get("bed") != bed:
            continue
        if spans and spans[-1].lifted is None:
            spans[-1] = Laid(spans[-1].event, event["day"])
        if event["details"].get("step") == "laid":
            spans.append(Laid(event, None))
    return spans


def _planned_weeks(event: Event) -> float | None:
    weeks = number(event["details"].get("planned_weeks"))
    return weeks if weeks is not None and 0 < weeks <= MOST_WEEKS else None


def _lying(context: Context, rule: Rule, span: Laid) -> Finding:
    laid = span.event["day"]
    planned = _planned_weeks(span.event)
    values: dict[str, Any] = {"laid_day": laid, "weeks": max(context.today - laid, 0) // WEEK_DAYS}
    says = "noted"
    if planned is not None:
        values["planned_weeks"] = planned
        says = "done" if context.today >= laid + planned * WEEK_DAYS else "planned"
    least, most = days(context, rule, "weeks"), days(context, rule, "weeks_at_most")
    why = [
        reason("film.laid", laid_day=laid, until_day=context.today),
        reason("film.weeks", weeks=least, weeks_at_most=most, source="ucipm-solarization"),
    ]
    if planned is not None and planned < least:
        why.append(reason("film.short", planned_weeks=planned, weeks=least))
    why += [*_how(span.event), reason("film.lift")]
    made = finding(context, rule, span.event["id"], "noted", values, why, [span.event])
    made["message"]["key"] = f"film.{says}"
    return made | {"settles": None}


def _how(event: Event) -> list[Reason]:
    """Clear film on moist soil, and no promise."""
    colour = text(event["details"].get("film"))
    told = [] if colour in (None, "clear") else [reason("film.not_clear", film=colour)]
    return [*told, reason("film.moist"), reason("film.no_promise")]


def _under(context: Context, rule: Rule, span: Laid) -> Finding | None:
    """A flag when plants stood there as the film was laid, or come before it is to be lifted."""
    planting = context.view["planting"]
    start, laid = start_day(planting), span.event["day"]
    if start is None:
        return None
    end = _end(context, rule, span)
    stood = planting.get("from_day") is not None and start < laid
    until = planting.get("until_day")
    if stood and (until is None or until > laid):
        says = "stands"
    elif laid <= start < end:
        says = "flagged"
    else:
        return None
    values = {"laid_day": laid, "start_day": start, "end_day": end, "crop": planting.get("crop")}
    why = [reason("film.until" if span.lifted is None else "film.lifted", **values)]
    ordinal = span.event["id"]
    made = finding(context, rule, ordinal, "flagged", values, why, [span.event, planting])
    made["message"]["key"] = f"film.{says}"
    return made


def _end(context: Context, rule: Rule, span: Laid) -> int:
    """When it was or is to be lifted; film that lies longer than planned lies today still."""
    if span.lifted is not None:
        return span.lifted
    planned = _planned_weeks(span.event)
    weeks = days(context, rule, "weeks_at_most") if planned is None else planned
    wanted: int = span.event["day"] + int(weeks * WEEK_DAYS)
    return max(wanted, context.today + 1)
