"""Entries as phones write them: every kind with any of its fields, each value within its limits."""

from dataclasses import dataclass, field
from random import Random
from typing import Any

from shedbook.log.clock import clock_text
from shedbook.log.describe import describe_kinds
from shedbook.log.identity import new_id
from shedbook.log.moment import moment_text
from tests.api.builders import NOW_MS, Phone

KINDS = {kind["name"]: kind for kind in describe_kinds()["kinds"]}
YEAR_S = 365 * 86_400
TEXTS = ("Dew until nine.", "piquín, sown late", "…", "<b>=1+1</b>", "\u202eabc", "a\nb", "é" * 100)


@dataclass
class Writer:
    """One phone's notebook, and what its entries have made and may mend."""

    phone: Phone
    random: Random
    beds: list[str] = field(default_factory=list)
    plantings: list[str] = field(default_factory=list)
    written: list[dict[str, Any]] = field(default_factory=list)

    def entry(self) -> dict[str, Any]:
        """The next entry, of a random kind."""
        kind = self.random.choice(["bed", "planting", *KINDS])
        made_id = self.new_id()
        entry = self.phone.entry(
            kind,
            self._details(kind),
            self._subjects(kind, made_id),
            id=made_id,
            happened_at=self._moment(),
            recorded_at=self._moment(),
            clock=clock_text(NOW_MS + self.random.randint(-YEAR_S, YEAR_S), self.phone.number % 99),
        )
        if kind == "decline" or self.random.random() < 0.05:
            entry["answers"] = f"side_dress/planting:{made_id}/1"
        self.written.append(entry)
        return entry

    def new_id(self) -> str:
        return new_id(NOW_MS, self.random.randbytes(10))

    def _moment(self) -> str:
        seconds = NOW_MS // 1000 - self.random.randrange(YEAR_S)
        return moment_text(seconds, self.random.choice([0, 60, 120, -300]))

    def _subjects(self, kind: str, made_id: str) -> dict[str, Any]:
        rules = KINDS[kind]["subjects"]
        subjects: dict[str, Any] = {}
        for slot, made in (("bed", self.beds), ("planting", self.plantings)):
            if not made or rules.get(slot, "none") == "none":
                continue
            is_needed = "required" in (rules[slot], rules.get("place"))
            if is_needed or self.random.random() < 0.7:
                subjects[slot] = self.random.choice(made)
        if rules.get("plants", "none") != "none" and "planting" in subjects:
            subjects["plants"] = self.random.sample(range(1, 13), self.random.randint(1, 4))
        if kind in ("bed", "planting") and self.random.random() < 0.7:
            subjects[kind] = made_id
            (self.beds if kind == "bed" else self.plantings).append(made_id)
        return subjects

    def _details(self, kind: str) -> dict[str, Any]:
        if kind in ("correct", "void") and self.written:
            root = self.random.choice(self.written)
            told = {"kind": root["kind"], "restated": self._details_of(root["kind"])}
            return {"entry": root["id"]} | (told if kind == "correct" else {})
        return self._details_of(kind)

    def _details_of(self, kind: str) -> dict[str, Any]:
        """What is required, and each of the rest now and then; all of it on some days."""
        often = self.random.choice([0.1, 0.4, 1.0])
        return {
            form["name"]: self._value(form)
            for form in KINDS[kind]["fields"]
            if form["required"] or self.random.random() < often
        }

    def _value(self, form: dict[str, Any]) -> Any:
        random = self.random
        match form["type"]:
            case "number":
                return random.choice(
                    [form["min"], form["max"], random.uniform(form["min"], form["max"])]
                )
            case "integer":
                return random.randint(int(form["min"]), int(form["max"]))
            case "text" | "long_text":
                return random.choice(TEXTS)[: form["max_length"]]
            case "choice":
                return random.choice(form["choices"])
            case "boolean":
                return random.random() < 0.5
            case "date":
                return f"{random.randint(1970, 2199)}-{random.randint(1, 12):02d}-15"
            case "moment":
                return self._moment()
            case "month_day":
                return f"{random.randint(1, 12):02d}-{random.randint(1, 28):02d}"
            case _:
                return self._listed(form["type"])

    def _listed(self, form_type: str) -> Any:
        """A value of a field that holds ids, names, lists or maps."""
        random = self.random
        ids = [*self.beds, *self.plantings, self.new_id()]
        return {
            "id": random.choice(ids),
            "sha256": random.randbytes(32).hex(),
            "id_list": random.sample(ids, random.randint(0, min(3, len(ids)))),
            "number_list": [random.uniform(0, 100) for _ in range(random.randint(1, 30))],
            "name_list": random.sample(["leaf_curled", "wilt", "x", "holes"], random.randint(1, 3)),
            "kind": random.choice(list(KINDS)),
            "map": {"any": [1, {"thing": None}]},
            "number_map": {"days_to_harvest": random.randint(0, 400), "x": 0.5},
            "object_map": {"mine": {"family": "solanaceae", "name": "Mine"}, "pepper": {}},
        }[form_type]
