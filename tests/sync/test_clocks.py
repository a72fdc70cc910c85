"""Two phones whose clocks are an hour wrong, one in each direction, with the shed between them."""

import secrets
import time
from typing import Any

import pytest

from shedbook.log.clock import FIRST_CLOCK, TRUSTED_AHEAD_MS, advance, clock_text, tick
from shedbook.log.identity import new_id
from shedbook.log.ledger import Ledger
from tests.sync.process import ShedProcess, SocketPhone
from tests.sync.soundness import Acknowledged, assert_sound

HOUR_MS = 3_600_000


class WrongPhone:
    """A phone that keeps its clock, its unsent entries and its ledger as the real one does."""

    def __init__(self, phone: SocketPhone, wrong_ms: int) -> None:
        self.phone = phone
        self.wrong_ms = wrong_ms
        self.clock = FIRST_CLOCK
        self.cursor = 0
        self.ledger = Ledger()
        self.unsent: list[dict[str, Any]] = []
        self.written: list[dict[str, Any]] = []
        self.told_wrong_ms = 0

    def now_ms(self) -> int:
        return time.time_ns() // 1_000_000 + self.wrong_ms

    def write(self, entry: dict[str, Any]) -> dict[str, Any]:
        """Give an entry this phone's clock and keep it."""
        self.clock = tick(self.clock, self.now_ms())
        entry["clock"] = self.clock
        self.unsent.append(entry)
        self.written.append(entry)
        self.ledger.add([entry])
        return entry

    def make_bed(self) -> str:
        made = self.phone.pen.bed()
        return str(self.write(made)["id"])

    def name(self, bed: str, name: str) -> None:
        """Change a bed's name; the id tells the time of this phone, too."""
        made_id = new_id(self.now_ms(), secrets.token_bytes(10))
        self.write(self.phone.pen.entry("bed", {"name": name}, {"bed": bed}, id=made_id))

    def exchange(self, acknowledged: Acknowledged) -> None:
        """Send what waits, take in what is new, and move the clock by what it saw."""
        answer = self.phone.sync(self.unsent, self.cursor)
        acknowledged.take(answer["answers"])
        self.unsent = []
        self.cursor = answer["cursor"]
        self.ledger.add(answer["entries"])
        for one in answer["entries"]:
            self.clock = advance(self.clock, one["order"], self.now_ms())
        self.told_wrong_ms = self.now_ms() - answer["server_time_ms"]

    def bed_name(self, bed: str) -> str:
        found = self.ledger.bed(bed)
        assert found is not None
        return str(found["name"])


@pytest.fixture
def phones(shed: ShedProcess) -> tuple[WrongPhone, WrongPhone]:
    """One an hour ahead, one an hour behind."""
    ahead, behind = shed.pair("lead", "Ana"), shed.pair("helper", "Bo")
    return WrongPhone(ahead, HOUR_MS), WrongPhone(behind, -HOUR_MS)


def _all_sound(shed: ShedProcess, phones: tuple[WrongPhone, ...], told: Acknowledged) -> None:
    for one in phones:
        one.exchange(told)
    for one in phones:
        one.exchange(told)
    assert phones[0].ledger.snapshot() == phones[1].ledger.snapshot()
    written = {one.phone.pen.notebook: one.written for one in phones}
    assert_sound(shed, [one.phone for one in phones], told, written)


def test_who_has_seen_a_change_and_makes_another_wins_whatever_the_clocks_say(
    shed: ShedProcess, phones: tuple[WrongPhone, WrongPhone]
) -> None:
    acknowledged = Acknowledged()
    bed = phones[0].make_bed()
    phones[0].exchange(acknowledged)
    for turn in range(8):
        writer, other = phones[turn % 2], phones[1 - turn % 2]
        writer.exchange(acknowledged)
        writer.name(bed, f"Name {turn}")
        writer.exchange(acknowledged)
        other.exchange(acknowledged)
        assert [one.bed_name(bed) for one in phones] == [f"Name {turn}"] * 2
    _all_sound(shed, phones, acknowledged)


@pytest.mark.parametrize("first", [0, 1], ids=["ahead sends first", "behind sends first"])
def test_changes_made_apart_end_alike_on_both_and_never_far_above_the_sheds_time(
    shed: ShedProcess, phones: tuple[WrongPhone, WrongPhone], first: int
) -> None:
    acknowledged = Acknowledged()
    bed = phones[0].make_bed()
    phones[0].exchange(acknowledged)
    phones[1].exchange(acknowledged)
    for one, name in zip(phones, ("Of the one ahead", "Of the one behind"), strict=True):
        one.name(bed, name)
    for one in (phones[first], phones[1 - first], phones[first]):
        one.exchange(acknowledged)
    # Neither saw the other's: the higher order wins, and that is the clock that runs ahead.
    assert [one.bed_name(bed) for one in phones] == ["Of the one ahead"] * 2
    log = phones[0].phone.sync([])["entries"]
    for one in log:
        ceiling = clock_text(one["received_at"] + TRUSTED_AHEAD_MS, 0)
        assert one["order"] == min(one["clock"], ceiling)
    # One of each phone was held against the ceiling, or the test would say nothing.
    assert {one["order"] == one["clock"] for one in log} == {True, False}
    # A clock that ran wild would carry the hour over; it stays below what the shed allows.
    assert phones[1].clock < clock_text(log[-1]["received_at"] + 2 * TRUSTED_AHEAD_MS, 0)
    assert [round(one.told_wrong_ms / HOUR_MS, 1) for one in phones] == [1.0, -1.0]
    _all_sound(shed, phones, acknowledged)
