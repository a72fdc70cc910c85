"""Two phones that change the same bed without a network, in every order of arrival."""

import itertools
from typing import Any

from shedbook.log.clock import clock_text
from shedbook.log.ledger import Ledger
from tests.api.builders import NOW_MS
from tests.sync.process import ShedProcess, SocketPhone
from tests.sync.soundness import Acknowledged, assert_sound

BATCHES = 3


def _changes(phone: SocketPhone, bed: str, mark: str, first_ms: int) -> list[list[dict[str, Any]]]:
    """Three batches: fields that the other changes too, fields of its own, work, a correction."""
    pen, placed = phone.pen, {"bed": bed}
    water = pen.entry("water", {"volume_l": 10}, placed)
    restated = {"entry": water["id"], "kind": "water", "restated": {"volume_l": 12}}
    batches = [
        [pen.entry("bed", {"name": f"{mark} 1", "length_m": 4}, placed), water],
        [pen.entry("bed", {"name": f"{mark} 2"}, placed), pen.entry("correct", restated, placed)],
        [pen.entry("bed", {"width_m": 1 if mark == "Ana" else 2}, placed)],
    ]
    for place, entry in enumerate(itertools.chain(*batches)):
        entry["clock"] = clock_text(first_ms + place * 1000, 0)
    return batches


def _without_ids(bed: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in bed.items() if name != "id"}


class Apart:
    """Two phones with their ledgers and cursors, and what they have written and been told."""

    def __init__(self, shed: ShedProcess) -> None:
        self.phones = [shed.pair("lead", "Ana"), shed.pair("lead", "Bo")]
        self.ledgers = [Ledger(), Ledger()]
        self.cursors = [0, 0]
        self.written: dict[str, list[dict[str, Any]]] = {
            phone.pen.notebook: [] for phone in self.phones
        }
        self.acknowledged = Acknowledged()

    def write(self, who: int, entries: list[dict[str, Any]]) -> None:
        """On the phone they count from the moment they are written."""
        self.written[self.phones[who].pen.notebook] += entries
        self.ledgers[who].add(entries)

    def exchange(self, who: int, batch: list[dict[str, Any]]) -> None:
        answer = self.phones[who].sync(batch, self.cursors[who])
        self.acknowledged.take(answer["answers"])
        self.cursors[who] = answer["cursor"]
        self.ledgers[who].add(answer["entries"])


def test_two_phones_that_edit_one_bed_apart_end_alike_in_every_order_of_arrival(
    shed: ShedProcess,
) -> None:
    """Each order gets a bed of its own, and all of these beds end alike too."""
    apart = Apart(shed)
    ends = []
    orders = sorted(set(itertools.permutations([0] * BATCHES + [1] * BATCHES)))
    assert len(orders) == 20
    for order in orders:
        made = apart.phones[0].pen.bed()
        bed = str(made["id"])
        apart.write(0, [made])
        apart.exchange(0, [made])
        waiting = [
            # Their clocks interleave: now the one is later, now the other.
            _changes(phone, bed, mark, NOW_MS + shift)
            for phone, mark, shift in zip(apart.phones, ("Ana", "Bo"), (0, 500), strict=True)
        ]
        for who, batches in enumerate(waiting):
            apart.write(who, [*itertools.chain(*batches)])
        for who in order:
            apart.exchange(who, waiting[who].pop(0))
        for who in (0, 1):
            apart.exchange(who, [])
        states = [ledger.bed(bed) for ledger in apart.ledgers]
        assert states[0] is not None
        assert states[0] == states[1], order
        ends.append(_without_ids(states[0]))
        assert ends[-1] == ends[0], order
    assert (ends[0]["name"], ends[0]["length_m"], ends[0]["width_m"]) == ("Bo 2", 4, 2)
    assert apart.ledgers[0].snapshot() == apart.ledgers[1].snapshot()
    assert_sound(shed, apart.phones, apart.acknowledged, apart.written)
