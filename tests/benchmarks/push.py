"""Sending: 20,000 new entries in batches of 500, checked, let in and stored, against raw inserts.

Measured twice: with a page of one entry, so that the answer is what became of the batch and little
else, and as a phone does it, which is given its own entries back in the order of the log. Beside
the narrowest table stands a second reference, the very rows that the push leaves behind, and how
long marshmallow alone would take to check the entries: that bounds any push which checks each so.
"""

import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from shedbook.log.check import check_closely
from shedbook.places import LOG_FILE
from tests.benchmarks.connection import BenchShed, KeptConnection, a_shed, read_answer, sync_body
from tests.benchmarks.log_entries import Entry, a_garden_of, mean_bytes, season_of
from tests.benchmarks.reference import Row, median, own_insert_s, raw_insert_s, seconds

ENTRIES = 20_000
BATCH = 500
BEDS = 12
PLANTINGS = 30
REPEATS = 3
AIM = "at least 0.15, better 0.25"


class Repeat(NamedTuple):
    """Seconds for the same entries: pushed, pushed and given back, inserted raw, inserted bare into
    the shed's own tables, and only checked, each by the schema of its kind.
    """

    push_s: float
    echo_s: float
    raw_s: float
    own_s: float
    checked_s: float
    entry_bytes: float


def measure() -> list[Row]:
    """Each repeat fills two new sheds, with the reference taken beside them."""
    found = [_one_repeat() for _ in range(REPEATS)]
    push_s, echo_s, raw_s, own_s, checked_s = (
        median(repeat[at] for repeat in found) for at in range(5)
    )
    raw = f"{ENTRIES / raw_s:,.0f}/s raw, {found[0].entry_bytes:.0f} bytes each"
    own = f"{ENTRIES / own_s:,.0f}/s bare into the same tables"
    timed = [
        ("push", push_s, raw, raw_s, AIM),
        ("push", push_s, own, own_s, AIM),
        ("push, own entries given back", echo_s, raw, raw_s, ""),
        ("no more than each entry's schema", checked_s, raw, raw_s, ""),
    ]
    return [
        Row(name, f"{ENTRIES / taken_s:,.0f} entries/s", beside, reference_s / taken_s, aim)
        for name, taken_s, beside, reference_s, aim in timed
    ]


def _one_repeat() -> Repeat:
    with a_shed() as shed, tempfile.TemporaryDirectory(dir=shed.data.parent) as elsewhere:
        push_s, entries = push_season(shed, page=1)
        raw_s = raw_insert_s(shed.data, entries, BATCH)
        own_s = own_insert_s(Path(elsewhere), shed.data / LOG_FILE, BATCH)
    now = int(time.time())
    checked_s = seconds(lambda: [check_closely(entry, now) for entry in entries])
    with a_shed() as shed:
        echo_s, _ = push_season(shed, page=BATCH)
    return Repeat(push_s, echo_s, raw_s, own_s, checked_s, mean_bytes(entries))


def push_season(shed: BenchShed, page: int) -> tuple[float, list[Entry]]:
    """Seconds for all batches, one after another, and the entries that were in them."""
    phone = KeptConnection(shed, shed.pair("lead", "Inés"))
    places, made = a_garden_of(phone.pen, BEDS, PLANTINGS)
    first = read_answer(phone.post("/sync", sync_body(phone.pen, made, 0)))
    entries = season_of(phone.pen, places, ENTRIES)
    batches = [entries[start : start + BATCH] for start in range(0, ENTRIES, BATCH)]
    # A phone knows where it will have read up to, so the bodies are ready before the clock starts.
    bodies = [
        sync_body(phone.pen, batch, first["head"] + place * BATCH, page=page)
        for place, batch in enumerate(batches)
    ]
    begun = time.perf_counter()
    answers = [phone.post("/sync", body) for body in bodies]
    taken_s = time.perf_counter() - begun
    assert_all_there(phone, answers, entries, first["head"])
    phone.close()
    return taken_s, entries


def assert_all_there(
    phone: KeptConnection, answers: Sequence[bytes], entries: Sequence[Entry], before: int
) -> None:
    """Every entry was accepted under the next number, and the notebook has no gap."""
    told = [one for wire in answers for one in read_answer(wire)["answers"]]
    assert [one["id"] for one in told] == [entry["id"] for entry in entries]
    assert {one["result"] for one in told} == {"accepted"}
    assert [one["seq"] for one in told] == list(range(before + 1, before + len(told) + 1))
    assert not any("remarks" in one for one in told)
    notebook = read_answer(answers[-1])["notebook"]
    assert notebook["missing"] == []
    assert notebook["unbroken"] == notebook["highest"] == phone.pen.number
