"""What a rule may see: one subject with its bed, residents and weather; twin of client/log/view.js.

An event belongs to a bed only when it names the bed: water given to seedlings in March must not
count as water for the bed that they are planted into in May. So a form that records work on a
planting names its bed too. A treatment is different, because nobody may be told too little of it:
a planting takes along what was sprayed in the beds it stood in, and a bed sees what was sprayed on
a planting in it when no bed was named. It takes along raw manure too, also what lay there before.
"""

from collections.abc import Callable

from shedbook.log.fold import was_there
from shedbook.log.ledger import Ledger, sort_by_time
from shedbook.log.telling import Json

Sees = Callable[[Json], bool]


def view_of_planting(
    ledger: Ledger,
    planting_id: str,
    *,
    with_hidden: bool = False,
    sees: Sees | None = None,
) -> Json | None:
    """A planting with its bed and all that happened to either; None when unknown, or hidden.

    `sees` tells which events are seen; without it, all are.
    """
    planting = ledger.planting(planting_id)
    if planting is None or (planting["hidden"] and not with_hidden):
        return None
    bed_id = planting.get("bed")
    own = ledger.events_of_planting(planting_id)
    if bed_id is None:
        subject = {"planting": planting_id}
        return _view(ledger, "planting", subject, planting, own, sees)
    elsewhere = [event for event in own if event.get("bed") != bed_id]
    elsewhere += _waits_of_former_beds(ledger, planting)
    subject = {"bed": bed_id, "planting": planting_id}
    return _view(ledger, "planting", subject, planting, elsewhere, sees)


def view_of_bed(ledger: Ledger, bed_id: str, *, sees: Sees | None = None) -> Json | None:
    """A bed with its residents and all that happened in it; None when unknown or hidden."""
    bed = ledger.bed(bed_id)
    if bed is None or bed["hidden"]:
        return None
    return _view(ledger, "bed", {"bed": bed_id}, None, [], sees)


def _view(
    ledger: Ledger,
    kind: str,
    subject: Json,
    planting: Json | None,
    events: list[Json],
    sees: Sees | None,
) -> Json:
    """The one shape of a view; `events` are those that the bed does not already hold."""
    bed_id = subject.get("bed")
    seen = [*events, *ledger.weather()]
    residents: list[Json] = [] if planting is None else [planting]
    neighbours: list[Json] = []
    if bed_id is not None:
        seen += ledger.events_in_bed(bed_id)
        seen += _bedless_treats(ledger, bed_id, subject.get("planting"))
        residents = ledger.residents(bed_id)
        for other in ledger.beds_beside(bed_id):
            neighbours += ledger.residents(other)
    return {
        "kind": kind,
        "subject": subject,
        "bed": None if bed_id is None else ledger.bed(bed_id),
        "planting": planting,
        "settings": ledger.settings(),
        "events": sort_by_time(seen if sees is None else [one for one in seen if sees(one)]),
        "residents": residents,
        "neighbours": sorted(neighbours, key=lambda neighbour: str(neighbour["id"])),
    }


def _waits_of_former_beds(ledger: Ledger, planting: Json) -> list[Json]:
    """Treatments and raw manure of beds that the planting has left, up to the day it left."""
    return [
        event
        for bed_id in planting["beds"]
        if bed_id != planting["bed"]
        for event in ledger.events_in_bed(bed_id)
        if _makes_wait(event, planting["id"]) and was_there(planting, bed_id, event["day"])
    ]


def _makes_wait(event: Json, planting_id: str) -> bool:
    """Is it a treatment of the whole bed, or raw manure in its soil, which reaches all in it?"""
    if event.get("planting") == planting_id:
        return False
    if event["kind"] == "treat":
        return "planting" not in event
    return bool(event["kind"] == "feed" and event["details"].get("origin") == "raw_manure")


def _bedless_treats(ledger: Ledger, bed_id: str, own_id: str | None) -> list[Json]:
    """Treatments that name a planting of the bed but no bed, without those of the subject's own."""
    return [
        event
        for planting in ledger.ever_in(bed_id)
        if planting["id"] != own_id
        for event in ledger.bedless_treats(planting["id"])
        if was_there(planting, bed_id, event["day"])
    ]
