"""Asking for news when there is none: an exchange, against a request that is let in, no more."""

from tests.benchmarks.connection import KeptConnection, a_shed, read_answer, sync_body
from tests.benchmarks.log_entries import a_garden_of, season_of
from tests.benchmarks.reference import Row, median, seconds

ENTRIES = 2000
BATCH = 500
REPEATS = 600
AIM = "at most 1.5"


def measure() -> list[Row]:
    """The two take turns, so that what disturbs the machine disturbs both."""
    with a_shed() as shed:
        phone = KeptConnection(shed, shed.pair("lead", "Inés"))
        body = _body_of_one_who_has_all(phone)
        nothing_s, empty_s = [], []
        for _ in range(REPEATS):
            nothing_s.append(seconds(lambda: phone.post("/sync", body)))
            empty_s.append(seconds(lambda: phone.post("/empty", b"")))
        _assert_nothing_new(phone, body)
        phone.close()
    found, reference = median(nothing_s), median(empty_s)
    return [
        Row(
            "nothing new",
            f"{found * 1000:.2f} ms",
            f"{reference * 1000:.2f} ms, let in and no more",
            found / reference,
            AIM,
        )
    ]


def _body_of_one_who_has_all(phone: KeptConnection) -> bytes:
    places, made = a_garden_of(phone.pen, 12, 30)
    entries = [*made, *season_of(phone.pen, places, ENTRIES)]
    for first in range(0, len(entries), BATCH):
        body = sync_body(phone.pen, entries[first : first + BATCH], 0, page=1)
        head = read_answer(phone.post("/sync", body))["head"]
    assert head == len(entries)
    return sync_body(phone.pen, [], head)


def _assert_nothing_new(phone: KeptConnection, body: bytes) -> None:
    answer = read_answer(phone.post("/sync", body))
    assert answer["answers"] == answer["entries"] == []
    assert answer["cursor"] == answer["head"]
