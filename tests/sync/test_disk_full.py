"""A full disk and one that turned read-only: reading goes on, nothing is lost, and it is said."""

import json
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any

import pytest

from shedbook.records.readiness import REMEMBERED_MS
from tests.sync.disks import fail, failing_disk, fill, make_room, small_disk
from tests.sync.process import ShedProcess, SocketPhone

pytestmark = pytest.mark.mount


@contextmanager
def shed_on(folder: Path) -> Iterator[ShedProcess]:
    shed = ShedProcess(folder)
    try:
        shed.start()
        yield shed
    finally:
        shed.close()


@pytest.fixture
def shed(tmp_path: Path) -> Iterator[ShedProcess]:
    """Its data folder is a disk of a few megabytes; the output lies elsewhere."""
    with ExitStack() as held:
        held.enter_context(small_disk(tmp_path / "data", 40))
        yield held.enter_context(shed_on(tmp_path))


@pytest.fixture
def phone(shed: ShedProcess) -> SocketPhone:
    return shed.pair("lead", "Ana")


def refusal(phone: SocketPhone, entries: list[dict[str, Any]]) -> tuple[int, dict[str, Any]]:
    """How an exchange was refused: the status and the error."""
    with pytest.raises(urllib.error.HTTPError) as refused:
        phone.sync(entries)
    told: dict[str, Any] = json.loads(refused.value.read())["error"]
    assert refused.value.headers["Retry-After"] == "60"
    return refused.value.code, told


def disk_by_readiness(shed: ShedProcess, *, fits: bool) -> str:
    """What /readyz says of the disk, once it has looked again and found it so."""
    until = time.monotonic() + 4 * REMEMBERED_MS / 1000
    while True:
        found = fields_of_readiness(shed)
        if ("disk" not in found) == fits:
            return " ".join(found.get("disk", []))
        assert time.monotonic() < until, found
        time.sleep(0.1)


def fields_of_readiness(shed: ShedProcess) -> dict[str, list[str]]:
    """What /readyz finds wrong."""
    try:
        with urllib.request.urlopen(f"{shed.origin}/readyz", timeout=30):
            return {}
    except urllib.error.HTTPError as error:
        status, told = error.code, json.loads(error.read())["error"]
    assert (status, told["code"]) == (503, "not_ready")
    fields: dict[str, list[str]] = told["fields"]
    return fields


def findings(shed: ShedProcess, phone: SocketPhone) -> Any:
    request = urllib.request.Request(
        f"{shed.origin}/api/gardens/{shed.garden}/findings", headers=phone.headers()
    )
    with urllib.request.urlopen(request, timeout=30) as response:
        return json.load(response)["findings"]


def test_a_full_disk_refuses_entries_lets_read_and_takes_the_same_batch_once_afterwards(
    shed: ShedProcess, phone: SocketPhone
) -> None:
    bed = phone.pen.bed()
    before = [bed, phone.pen.planting(bed["id"]), *(phone.pen.entry() for _ in range(3))]
    phone.sync(before)
    batch = [phone.pen.entry(details={"text": "x" * 2000}) for _ in range(200)]
    fill(shed.data)

    status, told = refusal(phone, batch)
    assert (status, told["code"]) == (507, "no_room")
    assert "Free room" in told["hint"]
    assert "no room left" in disk_by_readiness(shed, fits=False)
    # Neither the time of hearing nor the findings can be kept, and neither hinders the answer.
    pulled = phone.post(phone.sync_path, {"notebook": phone.pen.notebook, "waiting": 200})
    assert [entry["id"] for entry in pulled["entries"]] == [entry["id"] for entry in before]
    assert isinstance(findings(shed, phone), list)

    make_room(shed.data)
    assert disk_by_readiness(shed, fits=True) == ""
    assert fields_of_readiness(shed) == {}
    answers = phone.sync(batch)["answers"]
    assert [answer["result"] for answer in answers] == ["accepted"] * 200
    assert [answer["seq"] for answer in answers] == list(range(6, 206))
    again = phone.sync(batch)
    assert {answer["result"] for answer in again["answers"]} == {"known"}
    assert (again["head"], again["notebook"]["missing"]) == (205, [])


def test_pushes_go_on_to_be_refused_and_none_is_half_stored_while_the_disk_is_full(
    shed: ShedProcess, phone: SocketPhone
) -> None:
    fill(shed.data)
    batches = [[phone.pen.entry(details={"text": "x" * 3000}) for _ in range(100)] for _ in "abc"]
    for batch in batches:
        assert refusal(phone, batch)[1]["code"] == "no_room"
    make_room(shed.data)
    assert phone.sync([])["head"] == 0
    assert [phone.sync(batch)["head"] for batch in batches] == [100, 200, 300]


def test_a_disk_that_turns_read_only_lets_read_and_says_what_to_look_at(tmp_path: Path) -> None:
    with failing_disk(tmp_path / "data") as disk, shed_on(tmp_path) as shed:
        phone = shed.pair("lead", "Ana")
        written = [phone.pen.entry() for _ in range(5)]
        phone.sync(written)
        fail(disk)
        batch = [phone.pen.entry() for _ in range(20)]

        status, told = refusal(phone, batch)
        assert (status, told["code"]) == (503, "read_only")
        assert "rights of the data folder" in told["hint"]
        assert "takes no writing" in disk_by_readiness(shed, fits=False)
        pulled = phone.post(phone.sync_path, {"notebook": phone.pen.notebook, "waiting": 20})
        assert [entry["id"] for entry in pulled["entries"]] == [entry["id"] for entry in written]
        assert isinstance(findings(shed, phone), list)
        # Its words do not end on the failing disk.
        assert "Traceback" not in shed.output.read_text()
        shed.close()
