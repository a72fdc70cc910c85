"""Random gardens: two notebooks that make, change, correct and take back, in every odd way."""

from random import Random
from typing import Any

from shedbook.log.clock import clock_text, order_of
from shedbook.log.identity import new_id
from shedbook.log.kinds import KINDS
from shedbook.log.ledger import Ledger
from shedbook.log.view import view_of_bed, view_of_planting
from tests.builders import START, Book, Entry

DAY = 86_400
# Every kind that happens, but decisions, which need a finding to answer.
EVENTS = [name for name, kind in KINDS.items() if kind.group in ("work", "weather")] + ["note"]
LIKELY = ("sow", "transplant", "pick", "remove_plant", "treat", "rain")
ODD_SUBJECTS = (
    *({"plants": odd} for odd in (5, None, ["a", 1], [0], [1.5], [2.0, 1])),
    *({"bed": [1]}, {"planting": {}}, {"bed": None}, [], None, "bed"),
)
ODD_DETAILS = (
    *({}, [], {"entry": 5}, {"entry": "x", "kind": 1}, {"entry": "x", "kind": "bed"}),
    *({"beside": "x"}, {"beside": [1]}, {"plants": "5"}, {"plants": 1e9}, {"ended_on": "soon"}),
)
WEATHER = [name for name, kind in KINDS.items() if kind.group == "weather"]


class RandomGarden:
    """Grows a book by random entries; the same `random` grows the same book."""

    def __init__(self, random: Random) -> None:
        self.random = random
        self.book = Book()
        self.beds = [self._make("bed") for _ in range(random.randint(1, 3))]
        self.plantings = [self._make("planting") for _ in range(random.randint(1, 3))]

    def grow(self, count: int) -> list[Entry]:
        """Add so many entries; all of the garden's entries, in the order they were written."""
        steps = [self._event, self._event, self._event, self._change, self._correct, self._void]
        steps += [self._odd, self._name_plants]
        for _ in range(count):
            self.random.choice(steps)()
        for entry in self.book.entries:
            self._receive(entry)
        return self.book.entries

    def _make(self, kind: str) -> str:
        entry = self._write(kind, bed=self._bed() if kind == "planting" else None)
        made: str = entry["id"]
        return made

    def _write(self, kind: str, details: dict[str, Any] | None = None, **given: Any) -> Entry:
        day = self.random.randint(-30, 60) * DAY + self.random.randint(0, 3) * 3600
        given.setdefault("at", START + day)
        return self.book.write(kind, details, notebook=self.random.randint(0, 1), **given)

    def _bed(self) -> str | None:
        known = getattr(self, "beds", [])
        return self.random.choice([*known, None])

    def _plants(self) -> list[int] | None:
        if self.random.random() < 0.5:
            return None
        return self.random.sample(range(1, 15), self.random.randint(1, 12))

    def _event(self) -> None:
        kind = self.random.choice(EVENTS if self.random.random() < 0.5 else LIKELY)
        planting = None if kind in WEATHER else self.random.choice([*self.plantings, None])
        details = {"place": self.random.choice(["direct", "tray"])} if kind == "sow" else None
        plants = None if planting is None else self._plants()
        self._write(kind, details, bed=self._bed(), planting=planting, plants=plants)

    def _change(self) -> None:
        pick = self.random.choice
        kind = pick(("bed", "bed", "planting", "planting", "setting", "garden"))
        if kind == "bed":
            beside = self.random.sample(self.beds, self.random.randint(0, len(self.beds)))
            details = pick(
                [{"name": "North"}, {"name": None}, {"beside": beside}, {"hidden": True}]
            )
            self._write("bed", details, bed=pick(self.beds))
        elif kind == "planting":
            details = pick(
                [
                    {"plants": 2},
                    {"plants": None},
                    {"ended_on": "2026-08-01"},
                    {"ended_on": None},
                    {},
                ]
            )
            self._write("planting", details, planting=pick(self.plantings), bed=self._bed())
        elif kind == "setting":
            self._write("setting", pick([{"thresholds": {"a.b": 1.5}}, {"walk_order": self.beds}]))
        else:
            self._write("garden", {"name": pick(["Home", "Away"])})

    def _name_plants(self) -> None:
        details = self.random.choice([{"label": "A"}, {"label": None}, {"note": "By the gate"}])
        planting = self.random.choice(self.plantings)
        self._write("plant", details, planting=planting, plants=self._plants() or [1, 2])

    def _correct(self) -> None:
        told = [entry for entry in self.book.entries if isinstance(entry["subjects"], dict)]
        root = self.random.choice(told)
        kind = root["kind"] if self.random.random() < 0.9 else "pick"
        details = {"count": 2, "place": "direct", "name": "South", "plants": 3, "label": "B"}
        restated = {"entry": root["id"], "kind": kind, "restated": details}
        given = dict(root["subjects"]) | {"bed": self._bed()}
        if "answers" in root:
            given["answers"] = root["answers"]
        self._write("correct", restated, **given)

    def _void(self) -> None:
        root = self.random.choice(self.book.entries)
        self._write("void", {"entry": root["id"]})

    def _odd(self) -> None:
        """Kinds and versions of the future, decisions, and entries about places nobody made."""
        pick = self.random.randint(0, 5)
        if pick == 0:
            self._write("moonlight", {"lux": 0.2}, bed=self._bed())
        elif pick == 4:
            entry = self._write(self.random.choice(["moonlight", "treat", "pick", "planting"]))
            entry["subjects"] = self.random.choice(ODD_SUBJECTS)
        elif pick == 5:
            entry = self._write(self.random.choice(["correct", "void", "planting", "bed"]), {})
            entry["details"] = self.random.choice(ODD_DETAILS)
        elif pick == 1:
            self._write("pick", {"count": 1}, version=2, planting=self.plantings[0])
        elif pick == 2:
            nobody = new_id(1, bytes(10))
            self._write("transplant", {}, bed=nobody, planting=nobody)
        else:
            self._write("decline", {"reason": "Rain"}, planting=self.plantings[0], answers="a/b/1")

    def _receive(self, entry: Entry) -> None:
        """The shed has some entries, a few from a phone whose clock ran ahead."""
        if self.random.random() < 0.3:
            return
        ms = int(entry["clock"][:12], 16)
        if self.random.random() < 0.1:
            entry["clock"] = clock_text(ms + 9 * DAY * 1000, 0)
        entry["order"] = order_of(entry["clock"], ms + self.random.randint(0, 2) * DAY * 1000)


def a_random_log(random: Random, most: int = 40) -> list[Entry]:
    """The entries of a random garden."""
    return RandomGarden(random).grow(random.randint(1, most))


def all_views(ledger: Ledger) -> dict[str, Any]:
    """Every bed's and planting's view, by its key."""
    views: dict[str, Any] = {}
    for bed in ledger.beds():
        views[f"bed:{bed['id']}"] = view_of_bed(ledger, bed["id"])
    for planting in ledger.plantings():
        views[f"planting:{planting['id']}"] = view_of_planting(ledger, planting["id"])
    return views
