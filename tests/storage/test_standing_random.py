"""Random gardens: what is kept per bed group equals what the whole log gives, after every batch."""

import random
from typing import Any

import pytest
from flask import Flask

from shedbook.log.ledger import Ledger
from shedbook.records.standing import Moment, standing_of_garden
from shedbook.rules.garden import findings_of_garden
from shedbook.rules.rulebook import load_rulebook
from tests.api.builders import NOW_MS, Phone

AT = Moment(20_605, NOW_MS // 1000)
BATCHES = 8
BATCH = 12


class Grower:
    """Writes whatever comes to mind, about beds and plantings that it has made."""

    def __init__(self, phone: Phone, seed: int) -> None:
        self._phone = phone
        self._random = random.Random(seed)
        self._beds: list[str] = []
        self._plantings: list[str] = []
        self._events: list[dict[str, Any]] = []

    def batch(self) -> list[dict[str, Any]]:
        """Some entries, all of which the shed takes."""
        return [self._one() for _ in range(BATCH)]

    def _one(self) -> dict[str, Any]:
        if len(self._beds) < 2 or self._random.random() < 0.08:
            return self._bed()
        if len(self._plantings) < 2 or self._random.random() < 0.15:
            return self._planting()
        work = [self._move, self._water, self._feed, self._pick, self._treat, self._rain]
        work += [self._rehome, self._spray_plants, self._spray_bed]
        making = self._random.choice([*work, self._beside, self._hide, self._void, self._correct])
        return making()

    def _when(self) -> str:
        day = self._random.randint(1, 31)
        return f"2026-05-{day:02d}T{self._random.randint(5, 20):02d}:10:00+02:00"

    def _keep(self, kind: str, details: dict[str, Any], subjects: dict[str, Any]) -> dict[str, Any]:
        made = self._phone.entry(kind, details, subjects, happened_at=self._when())
        self._events.append(made)
        return made

    def _bed(self) -> dict[str, Any]:
        made = self._phone.bed(length_m=4, width_m=1)
        self._beds.append(made["id"])
        return made

    def _planting(self) -> dict[str, Any]:
        bed = self._random.choice([None, *self._beds])
        made = self._phone.planting(bed, crop=self._random.choice(["pepper", "tomato"]))
        self._plantings.append(made["id"])
        return made

    def _place(self) -> dict[str, Any]:
        return {
            "bed": self._random.choice(self._beds),
            "planting": self._random.choice(self._plantings),
        }

    def _move(self) -> dict[str, Any]:
        return self._keep("transplant", {}, self._place())

    def _rehome(self) -> dict[str, Any]:
        return self._phone.entry("planting", {}, self._place(), happened_at=self._when())

    def _hide(self) -> dict[str, Any]:
        root = self._random.choice([*self._beds, *self._plantings])
        return self._phone.entry("void", {"entry": root})

    def _beside(self) -> dict[str, Any]:
        bed, other = self._random.sample(self._beds, 2)
        details = {"beside": self._random.choice([[other], [], None])}
        return self._phone.entry("bed", details, {"bed": bed})

    def _water(self) -> dict[str, Any]:
        bed = {"bed": self._random.choice(self._beds)}
        return self._keep("water", {"volume_l": 9}, bed)

    def _feed(self) -> dict[str, Any]:
        planting = {"planting": self._random.choice(self._plantings)}
        return self._keep("feed", {"product": "compost", "amount_g": 50}, planting)

    def _pick(self) -> dict[str, Any]:
        return self._keep("pick", {"count": 3}, self._place())

    def _treat(self) -> dict[str, Any]:
        details = {"method": "hand_picking", "operator": "A", "hours_to_reentry": 24}
        return self._keep("treat", details, self._place())

    def _spray(self, subjects: dict[str, Any]) -> dict[str, Any]:
        details = {"method": "product", "operator": "A", "hours_to_reentry": 2000}
        return self._keep("treat", details | {"days_to_harvest": 60}, subjects)

    def _spray_plants(self) -> dict[str, Any]:
        return self._spray({"planting": self._random.choice(self._plantings)})

    def _spray_bed(self) -> dict[str, Any]:
        return self._spray({"bed": self._random.choice(self._beds)})

    def _rain(self) -> dict[str, Any]:
        bed = self._random.choice([{}, {}, {"bed": self._random.choice(self._beds)}])
        return self._keep("rain", {"depth_mm": 8}, bed)

    def _void(self) -> dict[str, Any]:
        root = self._random.choice([*self._beds, *self._plantings, *self._ids()])
        return self._phone.entry("void", {"entry": root})

    def _correct(self) -> dict[str, Any]:
        if not self._events:
            return self._rain()
        root = self._random.choice(self._events)
        details = {"entry": root["id"], "kind": root["kind"], "restated": root["details"]}
        subjects = self._place() if len(root["subjects"]) == 2 else root["subjects"]
        if root["kind"] == "rain":
            subjects = self._random.choice([{}, {"bed": self._random.choice(self._beds)}])
        elif root["kind"] == "treat":
            bed, planting = self._place().items()
            subjects = dict(self._random.choice([[bed], [planting], [bed, planting]]))
        return self._phone.entry("correct", details, subjects, happened_at=self._when())

    def _ids(self) -> list[str]:
        return [one["id"] for one in self._events]


@pytest.mark.parametrize("seed", range(4))
def test_kept_findings_equal_those_of_the_whole_log_after_every_batch(
    app: Flask, lead: Phone, seed: int
) -> None:
    grower = Grower(lead, seed)
    ledger = Ledger()
    seen = 0
    for _ in range(BATCHES):
        answer = lead.sync(grower.batch(), cursor=seen)
        results = [one for one in answer["answers"] if one["result"] != "accepted"]
        assert results == []
        ledger.add(answer["entries"])
        seen = answer["cursor"]
        with app.app_context():
            kept = standing_of_garden(lead.garden, load_rulebook(), AT)
        assert kept.head == seen
        assert kept.findings == findings_of_garden(ledger, load_rulebook(), AT.today, AT.now_s)
    assert kept.findings
