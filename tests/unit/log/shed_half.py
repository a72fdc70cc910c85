"""Answers the requests of tests/twins/log.mjs by the shed's half of the log."""

from collections.abc import Callable
from typing import Any

from shedbook.log import clock, identity, layout, moment
from shedbook.log.fold import live_plants
from shedbook.log.ledger import Ledger
from tests.unit.log.gardens import all_views

Request = dict[str, Any]


def ask_shed(request: Request) -> Any:
    """The shed's answer; "error" for what it refuses."""
    try:
        return ANSWERS[request["ask"]](request)
    except ValueError:
        return "error"


def fold(request: Request) -> dict[str, Any]:
    """A garden fed batch by batch; "forget" leaves entries out again."""
    ledger = Ledger()
    touched = [sorted(ledger.add(batch)) for batch in request["batches"]]
    forgotten = sorted(ledger.forget(request.get("forget", [])))
    return {
        "snapshot": ledger.snapshot(),
        "touched": touched,
        "forgotten": forgotten,
        "reached": [ledger.reached_by(keys) for keys in touched],
        "live": [live_plants(planting) for planting in ledger.plantings()],
        "views": list(all_views(ledger).values()),
    }


def row(request: Request) -> list[Any]:
    """The row of a plant, and all plants of it."""
    plant, count, rows = request["plant"], request["count"], request["rows"]
    at = layout.row_of(plant, count, rows)
    return [at, layout.plants_of_row(at, count, rows)]


ANSWERS: dict[str, Callable[[Request], Any]] = {
    "parse_moment": lambda ask: moment.parse_moment(ask["text"])._asdict(),
    "moment_text": lambda ask: moment.moment_text(ask["instant"], ask["offset"]),
    "parse_day": lambda ask: moment.parse_day(ask["text"]),
    "day": lambda ask: [moment.day_text(ask["day"]), list(moment.civil_date(ask["day"]))],
    "add_years": lambda ask: moment.add_years(ask["day"], ask["years"]),
    "tick": lambda ask: clock.tick(ask["last"], ask["now"]),
    "advance": lambda ask: clock.advance(ask["last"], ask["seen"], ask["now"]),
    "order_of": lambda ask: clock.order_of(ask["clock"], ask["received"]),
    "is_clock": lambda ask: clock.is_clock(ask["text"]),
    "new_id": lambda ask: identity.new_id(ask["now"], bytes(ask["random"])),
    "is_id": lambda ask: identity.is_id(ask["text"]),
    "position": lambda ask: list(layout.position_of(ask["plant"], ask["planting"], ask["bed"])),
    "row": row,
    "fold": fold,
}
