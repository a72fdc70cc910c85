"""Several devices at once, and the life of one batch over a real socket."""

import json
import threading
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from tests.api.builders import HEADERS
from tests.sync.process import ShedProcess, SocketPhone
from tests.sync.soundness import Acknowledged, assert_sound

DEVICES = 8
BATCHES = 6
BATCH = 15
TAB_ROUNDS = 30


def test_eight_devices_at_once_get_gap_free_numbers_and_one_log(shed: ShedProcess) -> None:
    phones = [shed.pair("helper", f"H{place}") for place in range(DEVICES)]
    written = {
        phone.pen.device: [phone.pen.entry() for _ in range(BATCHES * BATCH)] for phone in phones
    }

    def push_and_pull(phone: SocketPhone) -> list[dict[str, Any]]:
        """What the phone has of the log after it has sent everything, page by page."""
        pulled: list[dict[str, Any]] = []
        cursor = 0
        for place in range(BATCHES):
            batch = written[phone.pen.device][place * BATCH : (place + 1) * BATCH]
            answer = phone.sync(batch, cursor)
            assert {one["result"] for one in answer["answers"]} == {"accepted"}
            pulled += answer["entries"]
            cursor = answer["cursor"]
        return pulled

    with ThreadPoolExecutor(DEVICES) as pool:
        pulled = list(pool.map(push_and_pull, phones))
    total = DEVICES * BATCHES * BATCH
    logs = []
    for phone, seen in zip(phones, pulled, strict=True):
        cursor = seen[-1]["seq"]
        # Pulled while others wrote, and still nothing was skipped.
        assert [one["seq"] for one in seen] == list(range(1, cursor + 1))
        logs.append(seen + phone.sync([], cursor)["entries"])
    assert [one["seq"] for one in logs[0]] == list(range(1, total + 1))
    assert all(log == logs[0] for log in logs)
    sent = {one["id"] for entries in written.values() for one in entries}
    assert {one["id"] for one in logs[0]} == sent


def test_the_same_batch_from_two_connections_at_once_is_stored_once(shed: ShedProcess) -> None:
    """Two tabs of one phone, each with its own connection, start in the same instant."""
    phone = shed.pair("lead", "Ana")
    other = phone.at(shed.origin)
    written: list[dict[str, Any]] = []
    acknowledged = Acknowledged()
    together = threading.Barrier(2)

    def send(tab: SocketPhone) -> list[dict[str, Any]]:
        together.wait(30)
        return tab.sync(written[-BATCH:])["answers"]  # type: ignore[no-any-return]

    with ThreadPoolExecutor(2) as pool:
        for _ in range(TAB_ROUNDS):
            written += [phone.pen.entry() for _ in range(BATCH)]
            both = [acknowledged.take(given) for given in pool.map(send, [phone, other])]
            assert sorted(map(sorted, both)) == [["accepted"], ["known"]]
    assert_sound(shed, [phone, other], acknowledged, {phone.pen.notebook: written})


def test_overlapping_batches_of_two_tabs_are_stored_once(shed: ShedProcess) -> None:
    phone = shed.pair("lead", "Ana")
    written = [phone.pen.entry() for _ in range(TAB_ROUNDS * 4)]
    acknowledged = Acknowledged()
    parts = [written[at : at + 8] for at in range(0, len(written) - 4, 4)]
    with ThreadPoolExecutor(4) as pool:
        for answer in pool.map(phone.sync, parts):
            acknowledged.take(answer["answers"])
    assert_sound(shed, [phone], acknowledged, {phone.pen.notebook: written})


def test_a_body_that_is_too_large_is_answered_in_json_over_the_socket(shed: ShedProcess) -> None:
    phone = shed.pair("lead", "Ana")
    entries = [phone.pen.entry(details={"text": "x" * 3900}) for _ in range(500)]
    with pytest.raises(urllib.error.HTTPError) as refused:
        phone.sync(entries)
    with refused.value as answer:
        assert answer.code == 413
        assert json.loads(answer.read())["error"]["code"] == "too_large"
    assert phone.sync(entries[:200])["head"] == 200


def test_a_request_without_a_session_tells_no_version_and_asks_to_pair(shed: ShedProcess) -> None:
    request = urllib.request.Request(
        f"{shed.origin}/api/gardens/{shed.garden}/sync", b"{}", HEADERS, method="POST"
    )
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(request, timeout=10)
    with refused.value as answer:
        assert answer.code == 401
        assert "waitress" not in str(answer.headers).lower()
