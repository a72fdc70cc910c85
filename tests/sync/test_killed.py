"""A shed that is killed in the middle of pushes keeps all that it said it had, once."""

import http.client
import signal
import threading
import time
from typing import Any

from tests.sync.process import ShedProcess, SocketPhone

PHONES = 4
ENTRIES = 240
BATCH = 12
KILLS = 4


def _push_all(
    phone: SocketPhone, entries: list[dict[str, Any]], acknowledged: dict[str, int]
) -> None:
    """Send batch after batch, and each again until it has its answer."""
    for start in range(0, len(entries), BATCH):
        batch = entries[start : start + BATCH]
        while True:
            try:
                answers = phone.sync(batch, cursor=10**9)["answers"]
            # No answer: the shed is down, or went down between taking the batch and saying so.
            except (OSError, http.client.HTTPException):
                time.sleep(0.05)
                continue
            break
        for one in answers:
            assert one["result"] in ("accepted", "known"), one
            acknowledged[one["id"]] = one["seq"]


def _read_log(phone: SocketPhone) -> list[dict[str, Any]]:
    return phone.sync([])["entries"]  # type: ignore[no-any-return]


def test_kill_9_in_the_middle_of_pushes_loses_and_doubles_nothing(shed: ShedProcess) -> None:
    phones = [shed.pair("helper", f"H{place}") for place in range(PHONES)]
    written = [[phone.pen.entry() for _ in range(ENTRIES)] for phone in phones]
    acknowledged: dict[str, int] = {}
    threads = [
        threading.Thread(target=_push_all, args=(phone, entries, acknowledged))
        for phone, entries in zip(phones, written, strict=True)
    ]
    for thread in threads:
        thread.start()
    for kill in range(1, KILLS + 1):
        while len(acknowledged) < kill * PHONES * ENTRIES // (KILLS + 2):
            time.sleep(0.01)
        assert shed.end(signal.SIGKILL) == -signal.SIGKILL
        held = dict(acknowledged)
        shed.start()
        kept = {one["id"]: one["seq"] for one in _read_log(phones[0])}
        assert held.items() <= kept.items()
    for thread in threads:
        thread.join(60)
        assert not thread.is_alive()
    log = _read_log(phones[0])
    assert [one["seq"] for one in log] == list(range(1, PHONES * ENTRIES + 1))
    assert {one["id"] for one in log} == {one["id"] for entries in written for one in entries}
    assert acknowledged == {one["id"]: one["seq"] for one in log}
    for phone in phones:
        notebook = phone.sync([])["notebook"]
        assert notebook == {
            "id": phone.pen.notebook,
            "unbroken": ENTRIES,
            "missing": [],
            "highest": ENTRIES,
        }


def test_sigterm_ends_the_shed_cleanly_and_prints_no_secret(shed: ShedProcess) -> None:
    phone = shed.pair("lead", "Ana")
    phone.sync([phone.pen.entry()])
    assert shed.end(signal.SIGTERM) == 0
    printed = shed.output.read_text()
    assert phone._cookie.split("=")[1] not in printed
    shed.start()
    assert [one["seq"] for one in _read_log(phone)] == [1]
