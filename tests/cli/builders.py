"""Beds and plantings for the tests of commands, brought in by the path that phones take."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from shedbook.cli.opening import choose_garden, open_shed
from shedbook.cli.pair import first_lead
from shedbook.cli.terminal import draft_entry, send_entry, terminal_of
from shedbook.records.engine import now_ms


def a_bed(name: str, **fields: Any) -> str:
    """A bed of the only garden; its id."""
    return write("bed", {}, {"name": name, "type": "ground", **fields})


def a_planting(bed: str, crop: str, variety: str, plants: int) -> str:
    """A planting that stands in the bed since now; its id."""
    made = write("planting", {"bed": bed}, {"crop": crop, "variety": variety, "plants": plants})
    write("transplant", {"bed": bed, "planting": made}, {})
    return made


def write(kind: str, subjects: Mapping[str, str], details: Mapping[str, Any]) -> str:
    """One entry into the only garden; its id, which is also the id of what it makes."""
    with open_shed(None).app_context():
        garden = choose_garden()
        terminal = terminal_of(garden, first_lead(garden))
        at_ms = now_ms()
        happened_at = datetime.fromtimestamp(at_ms // 1000, UTC)
        entry = draft_entry(terminal, kind, subjects, details, happened_at, at_ms)
        if kind in {"bed", "planting"}:
            entry["subjects"][kind] = entry["id"]
        answer = send_entry(terminal, entry, at_ms)
    assert (answer.result, dict(answer.remarks)) == ("accepted", {}), answer
    made: str = entry["id"]
    return made
