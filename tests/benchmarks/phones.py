"""Fifty phones come back to the shed at once, each with 200 entries in four exchanges to send.

As each phone sends its next batch when the last was answered, all of them are in the queue all the
time; what is compared is how long the unlucky and the usual exchange take.
"""

import statistics
import threading
import time
from typing import NamedTuple

from shedbook.records.people import invite
from tests.benchmarks.connection import (
    BenchShed,
    KeptConnection,
    a_shed,
    read_answer,
    sync_body,
)
from tests.benchmarks.log_entries import Entry, a_garden_of, season_of
from tests.benchmarks.reference import Row
from tests.sync.process import SocketPhone

PHONES = 50
EACH = 200
BATCH = 50
PAGE = 2000
AIM = "at most 2"


class Load(NamedTuple):
    """How long each exchange took, and what the shed held before and after."""

    waits_s: list[float]
    before_bytes: int
    after_bytes: int


def measure() -> list[Row]:
    """Every exchange of every phone, all begun together."""
    with a_shed() as shed:
        waits_s = sorted(send_at_once(shed).waits_s)
    half, last = statistics.median(waits_s), waits_s[int(len(waits_s) * 0.99)]
    return [
        Row(
            f"{PHONES} phones at once, p99",
            f"{last * 1000:,.0f} ms",
            f"{half * 1000:,.0f} ms, p50",
            last / half,
            AIM,
        )
    ]


def send_at_once(shed: BenchShed) -> Load:
    """Let every phone push its entries at the same moment, and see that none is missing."""
    phones = _paired(shed)
    places, made = a_garden_of(phones[0].pen, 12, 30)
    first = read_answer(phones[0].post("/sync", sync_body(phones[0].pen, made, 0)))
    written = [season_of(phone.pen, places, EACH, seed) for seed, phone in enumerate(phones)]
    bodies = [
        [
            sync_body(phone.pen, entries[start : start + BATCH], first["head"], page=PAGE)
            for start in range(0, EACH, BATCH)
        ]
        for phone, entries in zip(phones, written, strict=True)
    ]
    answers: list[list[bytes]] = [[] for _ in phones]
    waits_s: list[float] = []
    gate = threading.Barrier(len(phones))

    def send(place: int) -> None:
        gate.wait()
        for body in bodies[place]:
            begun = time.perf_counter()
            answers[place].append(phones[place].post("/sync", body))
            waits_s.append(time.perf_counter() - begun)

    before_bytes = shed.resident_bytes()
    threads = [threading.Thread(target=send, args=(place,)) for place in range(len(phones))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    after_bytes = shed.resident_bytes()
    _assert_all_there(phones, answers, written, first["head"])
    for phone in phones:
        phone.close()
    return Load(waits_s, before_bytes, after_bytes)


def _paired(shed: BenchShed) -> list[KeptConnection]:
    with shed.opened():
        codes = [invite(shed.garden, "lead", f"Hand {n}", 600).code for n in range(PHONES)]
    return [
        KeptConnection(shed, SocketPhone(shed, code, f"Hand {number}"))
        for number, code in enumerate(codes)
    ]


def _assert_all_there(
    phones: list[KeptConnection],
    answers: list[list[bytes]],
    written: list[list[Entry]],
    head: int,
) -> None:
    """No phone met an error, and the log's numbers go on without a gap, each used once."""
    seqs: list[int] = []
    for phone, given, entries in zip(phones, answers, written, strict=True):
        read = [read_answer(wire) for wire in given]
        told = [one for answer in read for one in answer["answers"]]
        assert [one["id"] for one in told] == [entry["id"] for entry in entries]
        assert {one["result"] for one in told} == {"accepted"}
        assert read[-1]["notebook"]["missing"] == []
        assert read[-1]["notebook"]["unbroken"] == phone.pen.number
        seqs += [one["seq"] for one in told]
    assert sorted(seqs) == list(range(head + 1, head + 1 + PHONES * EACH))
