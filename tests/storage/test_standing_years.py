"""Random gardens of several years: the part of the log that is read for a bed group gives the same
findings as all of it, whatever was corrected, taken back, moved or written down late.
"""

import json
import re
import uuid
from typing import Any

import pytest
from flask import Flask

from shedbook.log.ledger import Ledger
from shedbook.records import standing as records_standing
from shedbook.records.engine import writing
from shedbook.records.entries import NewEntry, append_entries, columns_of
from shedbook.records.gardens import create_garden, get_garden
from shedbook.records.groups import update_homes
from shedbook.records.models import db
from shedbook.records.standing import Moment, standing_of_garden
from shedbook.rules.garden import findings_of_garden
from shedbook.rules.rulebook import load_rulebook
from tests.api.builders import NOW_MS
from tests.unit.rules.gardens import RandomGarden
from tests.unit.rules.gardens_past import add_past

GARDENS = 60
PASTS = 3
MENDED = 6
# Of all entries of these gardens, so much at most is read; else nothing was put to the test.
MOST_READ = 0.9
# A clock is as long as the ids of these gardens.
_SHORT_ID = re.compile(r'(?<!"clock": ")(?<![0-9a-f])[0-9a-f]{16}(?![0-9a-f])|never-made')


def _years(seed: int) -> RandomGarden:
    """A garden with several pasts, of which much was mended, moved and taken back."""
    garden = RandomGarden(seed)
    for _ in range(PASTS):
        add_past(garden)
    homes = {entry["id"]: entry["subjects"].get("bed") for entry in _made(garden)}
    garden.plantings = list(homes.items())
    for _ in range(MENDED):
        garden.mend()
    for _ in range(2):
        garden.upset()
    garden.chance.shuffle(garden.entries)
    return garden


def _made(garden: RandomGarden) -> list[dict[str, Any]]:
    return [entry for entry in garden.entries if entry["kind"] == "planting" and entry["subjects"]]


def _as_log(garden: RandomGarden, garden_id: str) -> list[dict[str, Any]]:
    """Its entries with ids as phones make them; without subjects none gets into a log."""
    kept = [one for one in garden.entries if one["subjects"] is not None]
    told = json.dumps([one | {"garden": garden_id} for one in kept])
    return list(json.loads(_SHORT_ID.sub(_long_id, told)))


def _long_id(found: re.Match[str]) -> str:
    return str(uuid.uuid5(uuid.NAMESPACE_OID, found[0]))


def _store(garden_id: str, entries: list[dict[str, Any]]) -> None:
    """Straight into the log: what acceptance asks of an entry is not what is tested here."""
    new = [
        NewEntry(columns_of(one), "", json.dumps(one), one["clock"], NOW_MS, {}, "device")
        for one in entries
    ]
    named = [one.columns for one in new]
    with writing() as session:
        append_entries(session, get_garden(session, garden_id), new)
        beds = {one["bed_id"] for one in named} - {None}
        update_homes(session, garden_id, beds, {one["planting_id"] for one in named} - {None})


def test_what_is_read_of_the_log_gives_the_findings_of_all_of_it(
    app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    read, rulebook = [], load_rulebook()
    original = records_standing.ledger_of_bed_group

    def counted(*asked: Any) -> Ledger:
        ledger = original(*asked)
        read.append(len(ledger.snapshot()["events"]))
        return ledger

    monkeypatch.setattr(records_standing, "ledger_of_bed_group", counted)
    held = found = 0
    with app.app_context():
        for seed in range(GARDENS):
            garden = _years(seed)
            garden_id = create_garden("Home", "Europe/Madrid", at_ms=NOW_MS).id
            entries = _as_log(garden, garden_id)
            _store(garden_id, entries)
            ledger = Ledger()
            ledger.add(entries)
            at = Moment(garden.today, garden.now)
            before = len(read)
            kept = standing_of_garden(garden_id, rulebook, at, keep=False).findings
            assert kept == findings_of_garden(ledger, rulebook, at.today, at.now_s), seed
            held += len(ledger.snapshot()["events"]) * (len(read) - before)
            found += len(kept)
            db.session.rollback()
    assert found > GARDENS
    assert sum(read) < MOST_READ * held
