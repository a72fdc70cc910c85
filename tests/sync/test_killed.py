"""A shed that is killed in the middle of pushes keeps all that it said it had, once."""

import http.client
import itertools
import os
import secrets
import signal
import statistics
import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from random import Random
from typing import Any

from sqlalchemy import Connection, NullPool, create_engine, text

from tests.sync.forked import ForkedShed
from tests.sync.process import PATIENCE_S, ShedProcess, SocketPhone
from tests.sync.soundness import Acknowledged, assert_sound, whole_log

Entries = list[dict[str, Any]]

PHONES = 4
ENTRIES = 240
BATCH = 12
KILLS = 4

# One after another; a third of them ends with the death of the shed.
PUSHES = {"sqlite": 200, "postgresql": 60}
KILLED_SHARE = 0.35
IN_THE_BODY, AT_WORK, AFTER_COMMIT = "in the body", "at work", "after the commit"
# Longest of the three, and the only one whose end is open.
TURNS = (IN_THE_BODY, AT_WORK, AFTER_COMMIT, AT_WORK)


def _push_all(phone: SocketPhone, entries: Entries, acknowledged: Acknowledged) -> None:
    """Send batch after batch, and each again until it has its answer."""
    for start in range(0, len(entries), BATCH):
        acknowledged.take(_push(phone, entries[start : start + BATCH]))


def _push(phone: SocketPhone, batch: Entries) -> Entries:
    until = time.monotonic() + PATIENCE_S
    while True:
        try:
            return phone.sync(batch, cursor=10**9)["answers"]  # type: ignore[no-any-return]
        # No answer: the shed is down, or went down between taking the batch and saying so.
        except (OSError, http.client.HTTPException):
            assert time.monotonic() < until
            time.sleep(0.02)


def test_kill_9_while_several_phones_push_loses_and_doubles_nothing(
    shed: ForkedShed,
) -> None:
    phones = [shed.pair("helper", f"H{place}") for place in range(PHONES)]
    written = {phone.pen.notebook: [phone.pen.entry() for _ in range(ENTRIES)] for phone in phones}
    acknowledged = Acknowledged()
    threads = [
        threading.Thread(target=_push_all, args=(phone, written[phone.pen.notebook], acknowledged))
        for phone in phones
    ]
    for thread in threads:
        thread.start()
    for kill in range(1, KILLS + 1):
        while len(acknowledged.seqs) < kill * PHONES * ENTRIES // (KILLS + 2):
            time.sleep(0.01)
        assert shed.end(signal.SIGKILL) == -signal.SIGKILL
        held = dict(acknowledged.seqs)
        shed.start()
        kept = {one["id"]: one["seq"] for one in whole_log(phones[0])}
        assert held.items() <= kept.items()
    for thread in threads:
        thread.join(PATIENCE_S)
        assert not thread.is_alive()
    assert_sound(shed, phones, acknowledged, written)


def test_kill_9_at_any_moment_of_a_push_loses_and_doubles_nothing(shed: ForkedShed) -> None:
    """Before the body is whole, while it is stored, or after the commit and before the answer."""
    seed = int(os.environ.get("SHEDBOOK_SEED", secrets.randbelow(10**6)))
    print(f"SHEDBOOK_SEED={seed}")
    random = Random(seed)
    phones = [shed.pair("helper", f"H{place}") for place in range(3)]
    written: dict[str, Entries] = {phone.pen.notebook: [] for phone in phones}
    acknowledged, fates = Acknowledged(), Counter[tuple[str, str]]()
    usual_s = _usual_push_s(phones[0], written, acknowledged)
    turns = itertools.cycle(TURNS)
    for _ in range(PUSHES["postgresql" if shed.database_url else "sqlite"]):
        phone = random.choice(phones)
        batch = [phone.pen.entry() for _ in range(random.randint(1, 5))]
        written[phone.pen.notebook] += batch
        if random.random() < KILLED_SHARE:
            moment = next(turns)
            with _died(shed):
                _push_until(shed, phone, batch, moment, random, usual_s)
            log = {one["id"]: one["seq"] for one in whole_log(phone)}
            assert acknowledged.seqs.items() <= log.items()
            # All of the batch was stored, or nothing of it.
            assert len(log) - len(acknowledged.seqs) in (0, len(batch))
            (result,) = acknowledged.take(_push(phone, batch))
            fates[moment, result] += 1
        else:
            assert acknowledged.take(_push(phone, batch)) == {"accepted"}
    print(dict(fates))
    assert_sound(shed, phones, acknowledged, written)
    # What is not whole was not stored; what was committed is met again: else nothing was tried.
    assert {moment for moment, _ in fates} == set(TURNS)
    assert fates[IN_THE_BODY, "known"] == fates[AFTER_COMMIT, "accepted"] == 0


def _usual_push_s(
    phone: SocketPhone, written: dict[str, Entries], acknowledged: Acknowledged
) -> float:
    times = []
    for _ in range(5):
        batch = [phone.pen.entry() for _ in range(3)]
        written[phone.pen.notebook] += batch
        began = time.monotonic()
        acknowledged.take(_push(phone, batch))
        times.append(time.monotonic() - began)
    return statistics.median(times)


@contextmanager
def _died(shed: ForkedShed) -> Iterator[None]:
    """The shed is killed at the end of the block, and started again."""
    yield
    assert shed.end(signal.SIGKILL) == -signal.SIGKILL
    shed.start()


def _push_until(
    shed: ForkedShed,
    phone: SocketPhone,
    batch: Entries,
    moment: str,
    random: Random,
    usual_s: float,
) -> None:
    """Send a push by hand and come back at that moment of its life."""
    request = phone.request_bytes(batch)
    with _store_of(shed) as store, shed.connect() as connection:
        before = _head(store, shed.garden)
        if moment == IN_THE_BODY:
            head_end = request.index(b"\r\n\r\n") + 4
            connection.sendall(request[: random.randrange(head_end, len(request))])
            return
        connection.sendall(request)
        if moment == AT_WORK:
            time.sleep(random.uniform(0, 1.3 * usual_s))
            return
        until = time.monotonic() + PATIENCE_S
        while _head(store, shed.garden) == before:
            assert time.monotonic() < until


@contextmanager
def _store_of(shed: ShedProcess) -> Iterator[Connection]:
    """A look into the store from outside; gone before the shed is killed, or it would be held."""
    engine = create_engine(shed.url, poolclass=NullPool)
    with engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        yield connection
    engine.dispose()


def _head(store: Connection, garden: str) -> int:
    found = store.scalar(text("SELECT head FROM gardens WHERE id = :id"), {"id": garden})
    assert isinstance(found, int)
    return found


def test_sigterm_ends_the_shed_cleanly(shed: ShedProcess) -> None:
    phone = shed.pair("lead", "Ana")
    phone.sync([phone.pen.entry()])
    assert shed.end(signal.SIGTERM) == 0
    shed.start()
    assert [one["seq"] for one in whole_log(phone)] == [1]
