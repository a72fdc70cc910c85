"""Random small gardens as lists of entries, with what is known to go wrong put in on purpose:
work near midnight and near the change of the clocks, work on some plants only, corrections,
entries taken back, decisions against what is due, wrong years and wild but valid numbers.
"""

from random import Random
from typing import Any

from shedbook.log.moment import day_number, moment_text
from tests.unit.rules.gardens_feeding import add_feeding
from tests.unit.rules.gardens_heat import add_heat
from tests.unit.rules.gardens_keeping import add_keeping
from tests.unit.rules.gardens_past import add_past
from tests.unit.rules.gardens_place import add_place
from tests.unit.rules.gardens_raising import add_raising
from tests.unit.rules.gardens_scouting import add_scouting
from tests.unit.rules.gardens_water import add_water

Entry = dict[str, Any]

DAY_S = 86_400
CROPS = ("pepper", "tomato", "potato", "cucumber", "bean", "pea", "onion", "fennel", "oca")
# Local days on which clocks change, with the offsets in minutes before and after.
ZONES = (
    (day_number(2026, 3, 29), day_number(2026, 10, 25), 60, 120),
    (day_number(2026, 3, 8), day_number(2026, 11, 1), -480, -420),
)
# Water, treatments and picks most often: most rules look at those.
KINDS = (
    *("water", "water", "water", "treat", "treat", "pick", "pick", "feed", "scout", "rain"),
    *("prune", "remove_plant", "transplant", "sow", "discard", "note"),
)
SEASON_START = day_number(2026, 3, 1)
MINUTES_NEAR_MIDNIGHT = (0, 1, 59, 60, 119, 121, 1380, 1437, 1439)


class RandomGarden:
    """Makes entries one after another; every choice comes from the seed."""

    season_start = SEASON_START

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)
        self.zone = self.chance.choice(ZONES)
        self.entries: list[Entry] = []
        self.beds = [self._make_bed() for _ in range(self.chance.randint(1, 3))]
        self.plantings = [self._make_planting() for _ in range(self.chance.randint(1, 4))]
        for _ in range(self.chance.randint(5, 25)):
            self._work()
        if self.chance.random() < 0.3:
            add_keeping(self)
        if self.chance.random() < 0.3:
            add_place(self)
        if self.chance.random() < 0.3:
            add_past(self)
        if self.chance.random() < 0.3:
            add_feeding(self)
        self.now = self._instant()
        if self.chance.random() < 0.4:
            self.now = add_raising(self)
        if self.chance.random() < 0.4:
            self.now = self._water_often() + self.chance.randrange(4 * DAY_S)
        if self.chance.random() < 0.3:
            self.now = add_water(self)
        if self.chance.random() < 0.3:
            self.now = add_heat(self)
        if self.chance.random() < 0.3:
            add_scouting(self)
        self._settings()
        for _ in range(self.chance.randint(0, 4)):
            self.mend()
        if self.chance.random() < 0.5:
            self.upset()
        self.today = (self.now + self._offset(self.now // DAY_S) * 60) // DAY_S

    def add(self, kind: str, details: Entry, subjects: Entry | None = None, **more: Any) -> str:
        """Write an entry, at a random moment unless one is given; its id."""
        instant = more.pop("instant", None) or self._instant()
        entry_id = more.pop("id", None) or self._id()
        at = moment_text(instant, self._offset(instant // DAY_S))
        entry: Entry = {
            "id": entry_id,
            "garden": "g",
            "notebook": "n",
            "number": len(self.entries) + 1,
            "kind": kind,
            "version": 1,
            "subjects": subjects or {},
            "happened_at": at,
            "recorded_at": at,
            "clock": f"{self.chance.randrange(1 << 44):012x}0000",
            "device": "d",
            "person": "u",
            "details": details,
        }
        self.entries.append(entry | more)
        return entry_id

    def answer(self, key: str) -> None:
        """Decide against a finding, or do what it asks for with its key."""
        _, subject, _ = key.split("/", 2)
        kind, _, subject_id = subject.partition(":")
        subjects: Entry = {kind: subject_id}
        if kind == "planting" and self.chance.random() < 0.3:
            subjects["plants"] = [1, 2]
        if self.chance.random() < 0.7:
            self.add("decline", {"reason": "not needed"}, subjects, answers=key)
        else:
            self.add("feed", {"n_percent": self.chance.choice([0, 5])}, subjects, answers=key)

    def _id(self) -> str:
        return f"{self.chance.getrandbits(64):016x}"

    def _instant(self) -> int:
        """Often near midnight, near a change of the clocks, or close to other moments."""
        chance = self.chance
        day = chance.choice(
            [
                SEASON_START + chance.randrange(240),
                self.zone[0] + chance.randrange(-3, 4),
                self.zone[1] + chance.randrange(-3, 4),
                SEASON_START + 90 + chance.randrange(12),
                SEASON_START + 90 + chance.randrange(12),
            ]
        )
        if chance.random() < 0.02:
            day += chance.choice([-4000, 365, 9000])
        minute = chance.choice([chance.randrange(1440), chance.choice(MINUTES_NEAR_MIDNIGHT)])
        return day * DAY_S + (minute - self._offset(day)) * 60 + chance.randrange(60)

    def _offset(self, day: int) -> int:
        spring, autumn, winter, summer = self.zone
        return summer if spring <= day < autumn else winter

    def _date(self) -> str:
        return moment_text(self._instant(), 0)[:10]

    def _make_bed(self) -> str:
        bed = self._id()
        kinds = ["ground", "container", "raised", None]
        details = {"name": "bed", "type": self.chance.choice(kinds)}
        others = [entry["id"] for entry in self.entries]
        if others and self.chance.random() < 0.6:
            details["beside"] = [self.chance.choice(others)]
        self.add("bed", details, {"bed": bed}, id=bed)
        return bed

    def _make_planting(self) -> tuple[str, str | None]:
        chance = self.chance
        planting, bed = self._id(), chance.choice([*self.beds, *self.beds, None])
        details: Entry = {"crop": chance.choice(CROPS), "rows": 2}
        if chance.random() < 0.85:
            details["plants"] = chance.choice([1, 4, 6])
        if chance.random() < 0.3:
            details["planned_on"] = self._date()
        if chance.random() < 0.15:
            details["ended_on"] = self._date()
        subjects = {"planting": planting} | ({} if bed is None else {"bed": bed})
        self.add("planting", details, subjects, id=planting)
        if chance.random() < 0.85:
            self.add("transplant", {}, subjects)
        return planting, bed

    def _subjects(self) -> Entry:
        planting, bed = self.chance.choice(self.plantings)
        subjects: Entry = {"planting": planting} | ({} if bed is None else {"bed": bed})
        luck = self.chance.random()
        if luck < 0.2 and bed is not None:
            return {"bed": bed}
        if luck < 0.3:
            return {"planting": planting}
        if luck < 0.6:
            plants = self.chance.sample(range(1, 7), self.chance.randint(1, 4))
            return subjects | {"plants": plants}
        return subjects

    def _work(self) -> None:
        chance = self.chance
        kind = chance.choice(KINDS)
        details = getattr(self, f"_{kind}", dict)()
        self.add(kind, details, {} if kind == "rain" else self._subjects())

    def _water_often(self) -> int:
        """Water every one to three days; the last instant."""
        subjects, instant = self._subjects(), (SEASON_START + 90) * DAY_S
        for _ in range(self.chance.randint(4, 7)):
            instant += self.chance.choice([1, 2, 2, 3]) * DAY_S + self.chance.randrange(-7200, 7200)
            self.add("water", self._water(), subjects, instant=instant)
        return instant

    def _feed(self) -> Entry:
        return self.chance.choice([{}, {"n_percent": 0}, {"n_percent": 21.5}])

    def _water(self) -> Entry:
        method = self.chance.choice([{}, {"method": "overhead"}, {"method": "drip"}])
        return {"volume_l": 10} | method

    def _rain(self) -> Entry:
        return {"depth_mm": self.chance.choice([0, 4.9, 5, 30])}

    def _sow(self) -> Entry:
        return self.chance.choice([{}, {"place": "direct"}])

    def _treat(self) -> Entry:
        chance = self.chance
        details: Entry = {"method": chance.choice(["product", "home_mixture", "water_jet"])}
        if details["method"] == "home_mixture" and chance.random() < 0.8:
            details["mixture"] = "soap"
        if chance.random() < 0.7:
            details["days_to_harvest"] = chance.choice([0, 0.1, 0.5, 1, 3, 14, 365])
        if chance.random() < 0.6:
            details["hours_to_reentry"] = chance.choice([0, 0.3, 4, 12, 48, 2160])
        started = self._instant()
        if chance.random() < 0.4:
            details["started_at"] = moment_text(started, self._offset(started // DAY_S))
        if chance.random() < 0.4:
            ended = started + chance.choice([60, 3600, 90_000])
            details["ended_at"] = moment_text(ended, self._offset(ended // DAY_S))
        return details

    def upset(self) -> None:
        """Moves, beds and plantings that are taken back or never came, and what nobody can read."""
        planting, bed = self.chance.choice(self.plantings)
        for _ in range(self.chance.randint(1, 4)):
            other = self.chance.choice([*self.beds, "never-made"])
            chosen = self.chance.randrange(7)
            if chosen == 0:
                self.add("transplant", {}, {"planting": planting, "bed": other})
            elif chosen == 1:
                self.add("planting", {}, {"planting": planting, "bed": other})
            elif chosen == 2:
                self.add("void", {"entry": self.chance.choice([other, planting])})
            elif chosen == 3:
                self.add("treat", self._treat(), {"planting": planting})
            elif chosen == 4:
                self.add("treat", self._treat(), {"bed": other})
            elif chosen == 5:
                self.add("treat", self._treat(), {"planting": planting}, version=2)
            else:
                odd = self.chance.choice([{"plants": 5}, {"bed": [1]}, {"planting": {}}, None])
                self.add("moonlight", {"lux": 1}, odd)
                self.entries[-1]["subjects"] = odd
        if bed is None:
            self.add("treat", self._treat(), {"planting": planting, "bed": "never-made"})

    def _settings(self) -> None:
        thresholds = {
            "side_dress.closes_after_days": self.chance.choice([0, 3.5, 30]),
            "even_water.limit_cv": self.chance.choice([0, 0.333, 2]),
            "scout_weekly.every_days": self.chance.choice([0, 1, 10.9, 1e300]),
        }
        crops = {"oca": {"family": "oxalidaceae", "pick_every_days": 3}, "constructor": {}}
        if self.chance.random() < 0.5:
            self.add("setting", {"thresholds": thresholds, "crops": crops})

    def mend(self) -> None:
        """Correct or take back an entry that is there."""
        entry = self.chance.choice(self.entries)
        if entry["kind"] in ("correct", "void", "setting"):
            return
        if self.chance.random() < 0.4:
            self.add("void", {"entry": entry["id"]}, entry["subjects"])
            return
        restated = {"entry": entry["id"], "kind": entry["kind"], "restated": entry["details"]}
        is_work = entry["kind"] not in ("bed", "planting", "rain")
        self.add("correct", restated, self._subjects() if is_work else entry["subjects"])


ODD_VALUES = (None, "", "x", [], {}, ["a"], True, -1, 0, 1e308, 0.1, "2026-02-30", "__proto__")


def spoil(view: Entry, chance: Random) -> Entry:
    """The view with odd values where people type: in details, in fields and in settings."""
    events = [
        event | {"details": _spoiled(event["details"], chance), "answers": chance.choice(["", "x"])}
        for event in view["events"]
    ]
    spoiled = view | {"events": events, "settings": _spoiled(view["settings"], chance)}
    for name in ("bed", "planting"):
        if view[name] is not None:
            fixed = ("id", "hidden", "removed", "from_day", "until_day", "bed", "beds", "left")
            # What the fold made of the log is a day whatever was typed.
            fixed += ("sown_day", "emerged_day", "transplanted_day", "first_pick_day")
            loose = {key: value for key, value in view[name].items() if key not in fixed}
            spoiled[name] = view[name] | _spoiled(loose, chance)
    return spoiled


def _spoiled(fields: Entry, chance: Random) -> Entry:
    names = ["days_to_harvest", "hours_to_reentry", "n_percent", "ended_at", "thresholds", "crops"]
    odd = {name: chance.choice(ODD_VALUES) for name in [*fields, *names] if chance.random() < 0.2}
    return fields | odd
