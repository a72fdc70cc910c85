"""Reading: a phone that joins pulls a log of 20,000 entries, against a raw fetch of all of them.

Measured three times: as rows, which programs and older phones get; in columns by the first phone
after the server has started, whose pages are read and packed; and by a phone that comes after it,
which is given the full pages that the server has kept.
"""

import gzip
import signal
import time
from collections.abc import Mapping
from typing import NamedTuple

from shedbook.places import LOG_FILE
from tests.benchmarks.connection import KeptConnection, a_shed, read_answer, sync_body
from tests.benchmarks.log_entries import Entry, a_garden_of, season_of
from tests.benchmarks.push import BATCH, BEDS, ENTRIES, PLANTINGS
from tests.benchmarks.reference import Row, median, own_fetch_s, raw_fetch_s, raw_insert_s
from tests.columns import entries_in

PAGE = 2000
REPEATS = 5
TIME_AIM = "at least 0.30"
SIZE_AIM = "at most 60, better 45"


class Pulled(NamedTuple):
    """A whole log as it was on the wire, and the seconds that it took to come."""

    pages: list[bytes]
    taken_s: float


def measure() -> list[Row]:
    """One log; each repeat starts the server anew, with the reference taken beside it."""
    found: dict[str, list[Pulled]] = {"rows": [], "columns, first phone": [], "columns": []}
    raw_s, own_s = [], []
    with a_shed() as shed:
        phone = KeptConnection(shed, shed.pair("lead", "Inés"))
        written = _fill(phone)
        raw_insert_s(shed.data, written, BATCH)
        for _ in range(REPEATS):
            phone.close()
            shed.end(signal.SIGTERM)
            shed.start()
            # The server's first request of all brings much in that has nothing to do with a log.
            _pull(phone, "rows", page=1, until=1)
            found["columns, first phone"].append(_pull(phone, "columns"))
            found["columns"].append(_pull(phone, "columns"))
            found["rows"].append(_pull(phone, "rows"))
            raw_s.append(raw_fetch_s(shed.data))
            own_s.append(own_fetch_s(shed.data / LOG_FILE))
        phone.close()
    for name, pulls in found.items():
        _assert_is_whole(name, pulls[-1], written)
    references = {"raw": median(raw_s), "bare from the same table": median(own_s)}
    return [row for name, pulls in found.items() for row in _rows(name, pulls, references)]


def _rows(name: str, pulls: list[Pulled], references: Mapping[str, float]) -> list[Row]:
    taken_s = median(pulled.taken_s for pulled in pulls)
    wire = sum(map(len, pulls[-1].pages)) / ENTRIES
    pulled = f"{ENTRIES / taken_s:,.0f} entries/s"
    timed = [
        Row(
            f"pull, {name}",
            pulled,
            f"{ENTRIES / least_s:,.0f}/s {how}",
            least_s / taken_s,
            TIME_AIM,
        )
        for how, least_s in references.items()
    ]
    body = len(_json_of(pulls[-1])) / ENTRIES
    sized = Row(
        f"pull, {name}: bytes an entry",
        f"{wire:.1f}",
        f"{body:.0f} unpacked",
        wire / body,
        SIZE_AIM,
    )
    return [*timed, sized]


def _fill(phone: KeptConnection) -> list[Entry]:
    """All entries of the log, as they were sent; the clock of each moves with its time."""
    places, made = a_garden_of(phone.pen, BEDS, PLANTINGS)
    season = season_of(phone.pen, places, ENTRIES - len(made))
    entries = [*made, *(entry | {"clock": _clock_of(entry)} for entry in season)]
    for start in range(0, ENTRIES, BATCH):
        batch = entries[start : start + BATCH]
        answer = read_answer(phone.post("/sync", sync_body(phone.pen, batch, start, page=1)))
        assert {one["result"] for one in answer["answers"]} == {"accepted"}
    return entries


def _clock_of(entry: Entry) -> str:
    """The clock when the entry's id was made: both begin with milliseconds in hexadecimal."""
    digits: str = entry["id"].replace("-", "")[:12]
    return f"{digits}0000"


def _pull(phone: KeptConnection, form: str, page: int = PAGE, until: int = ENTRIES) -> Pulled:
    bodies = [
        sync_body(phone.pen, [], cursor, page=page, form=form) for cursor in range(0, until, page)
    ]
    begun = time.perf_counter()
    pages = [phone.post("/sync", body) for body in bodies]
    return Pulled(pages, time.perf_counter() - begun)


def _json_of(pulled: Pulled) -> bytes:
    return b"".join(map(gzip.decompress, pulled.pages))


def _assert_is_whole(name: str, pulled: Pulled, written: list[Entry]) -> None:
    """What came is what was sent, in the order of the log."""
    entries = []
    for wire in pulled.pages:
        answer = read_answer(wire)
        assert ("columns" in answer) == name.startswith("columns")
        entries += entries_in(answer["columns"]) if "columns" in answer else answer["entries"]
    assert [entry.pop("seq") for entry in entries] == list(range(1, ENTRIES + 1))
    for entry in entries:
        del entry["order"], entry["received_at"]
    assert entries == written
