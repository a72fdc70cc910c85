"""Several server processes on one PostgreSQL keep one log without a gap."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, closing
from pathlib import Path
from random import Random

import pytest

from tests.storage.postgresql import new_database
from tests.sync.forked import ForkedShed, Maker
from tests.sync.process import SocketPhone
from tests.sync.soundness import Acknowledged, assert_sound

pytestmark = pytest.mark.postgresql

PROCESSES = 4
PHONES_EACH = 2
BATCHES = 12


@pytest.fixture
def sheds(
    tmp_path: Path, maker: Maker, postgresql_server: str, empty_database: str
) -> Iterator[list[ForkedShed]]:
    """Four processes that serve one garden."""
    url = new_database(postgresql_server, like=empty_database)
    made: list[ForkedShed] = []
    with ExitStack() as stack:
        for place in range(PROCESSES):
            garden = made[0].garden if made else None
            shed = ForkedShed(tmp_path / str(place), url, garden)
            shed.data.mkdir(parents=True)
            shed.maker = maker
            made.append(stack.enter_context(closing(shed)))
            shed.start()
        yield made


def test_phones_at_four_processes_at_once_get_one_log_without_a_gap(
    sheds: list[ForkedShed],
) -> None:
    phones = [
        shed.pair("helper", f"H{place}-{which}")
        for place, shed in enumerate(sheds)
        for which in range(PHONES_EACH)
    ]
    written = {phone.pen.notebook: [] for phone in phones}
    acknowledged = Acknowledged()

    def push(phone: SocketPhone) -> None:
        """Batch after batch, each at the process that comes next, as behind a balancer."""
        random = Random(phone.pen.device)
        cursor = 0
        for _ in range(BATCHES):
            batch = [phone.pen.entry() for _ in range(random.randint(1, 9))]
            written[phone.pen.notebook] += batch
            phone.origin = random.choice(sheds).origin
            answer = phone.sync(batch, cursor)
            assert acknowledged.take(answer["answers"]) == {"accepted"}
            pulled = [one["seq"] for one in answer["entries"]]
            assert pulled == list(range(cursor + 1, answer["cursor"] + 1))
            cursor = answer["cursor"]

    with ThreadPoolExecutor(len(phones)) as pool:
        list(pool.map(push, phones))
    for place, phone in enumerate(phones):
        phone.origin = sheds[place % PROCESSES].origin
    heads = {phone.sync([], 10**9)["head"] for phone in phones}
    assert heads == {len(acknowledged.seqs)}
    assert_sound(sheds[0], phones, acknowledged, written)


def test_one_batch_at_four_processes_at_once_is_stored_once(sheds: list[ForkedShed]) -> None:
    phone = sheds[0].pair("lead", "Ana")
    written = []
    acknowledged = Acknowledged()
    tabs = [phone.at(shed.origin) for shed in sheds]
    with ThreadPoolExecutor(PROCESSES) as pool:
        for _ in range(15):
            batch = [phone.pen.entry() for _ in range(5)]
            written += batch
            answers = pool.map(lambda tab, sent=batch: tab.sync(sent)["answers"], tabs)
            results = sorted(acknowledged.take(given).pop() for given in answers)
            assert results == ["accepted", *["known"] * (PROCESSES - 1)]
    assert_sound(sheds[0], tabs, acknowledged, {phone.pen.notebook: written})


def test_a_new_person_invited_at_four_processes_at_once_is_one_person(
    sheds: list[ForkedShed],
) -> None:
    lead = sheds[0].pair("lead", "Ana")
    tabs = [lead.at(shed.origin) for shed in sheds]
    path = f"/api/gardens/{lead.pen.garden}/invitations"
    with ThreadPoolExecutor(PROCESSES) as pool:
        for place in range(8):
            body = {"name": f"Helper {place}", "role": "helper"}
            codes = list(pool.map(lambda tab, sent=body: tab.post(path, sent)["code"], tabs))
            assert len(set(codes)) == PROCESSES
    names = [person["name"] for person in lead.sync([])["people"]]
    assert sorted(names) == ["Ana", *(f"Helper {place}" for place in range(8))]
