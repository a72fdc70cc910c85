"""Whether an event is within a rule's reach: these plants, their whole bed, or its soil."""

from shedbook.rules.match import Context, Event, Planting, Rule


def is_here(context: Context, rule: Rule, event: Event) -> bool:
    """Is the event within the rule's reach? What names no bed is in a view for its plants."""
    planting = context.view["planting"]
    if planting is None:
        return "bed" not in event or event["bed"] == (context.view["bed"] or {}).get("id")
    if rule["params"]["reach"] == "plants":
        return is_on(event, planting)
    if rule["params"]["reach"] == "soil":
        return _is_in_soil(event, planting)
    return _is_around(context, event, planting)


def is_work_here(context: Context, rule: Rule, event: Event) -> bool:
    """Is work within the reach? What lies in the soil is met by the plants that stand there."""
    planting = context.view["planting"]
    if planting is not None and rule["params"]["reach"] == "soil":
        return is_on(event, planting)
    return is_here(context, rule, event)


def is_on(event: Event, planting: Planting) -> bool:
    """Did it reach these plants: by name, with their bed, or with a bed they stood in before?"""
    if "planting" in event:
        return bool(event["planting"] == planting["id"])
    if "bed" in event and event["bed"] != planting.get("bed"):
        return event["bed"] in planting.get("beds", [])
    # What went into the bed later was not met; of what has no such day that can't be said.
    start = planting.get("from_day")
    return start is None or start <= event["day"]


def _is_in_soil(event: Event, planting: Planting) -> bool:
    """Does it lie in the soil of these plants, put there before they came or for others?

    What was put there after they were cleared they never met.
    """
    if event.get("planting") == planting["id"]:
        return True
    until = planting.get("until_day")
    if until is not None and until < event["day"]:
        return False
    if "bed" in event:
        return event["bed"] == planting.get("bed") or event["bed"] in planting.get("beds", [])
    return "planting" not in event


def _is_around(context: Context, event: Event, planting: Planting) -> bool:
    """Must the planting itself tell of it, since no finding of its bed does?"""
    bed, bed_id = context.view["bed"], planting.get("bed")
    is_unseen = bed is None or bed["hidden"]
    if "planting" in event and event["planting"] == planting["id"]:
        return is_unseen or event.get("bed") != bed_id
    if "bed" not in event and "planting" not in event:
        return True
    return is_unseen and bed_id is not None and event.get("bed", bed_id) == bed_id
