"""Makers of entries for tests: whole, valid, and the same on every run.

`an_entry(kind="pick")` for one entry; a `Book` for a garden whose notebooks number and clock what
they write, as phones do.
"""

from typing import Any

from shedbook.log.clock import FIRST_CLOCK, tick
from shedbook.log.identity import new_id
from shedbook.log.kinds import KINDS
from shedbook.log.moment import moment_text

Entry = dict[str, Any]

# 2026-06-01T05:00:00Z, seven in the morning where the garden lies.
START = 1_780_290_000
OFFSET_MINUTES = 120

LEAST_DETAILS: dict[str, dict[str, Any]] = {
    "bed": {"name": "Bed 1"},
    "planting": {"crop": "pepper", "plants": 12},
    "plant": {"label": "Grandmother's"},
    "stage": {"leaf_count": 4},
    "water": {"volume_l": 20},
    "cover": {"what": "fleece"},
    "clean": {"what": "tools"},
    "scout": {"organism": "aphids", "grade": "few"},
    "treat": {"method": "product", "days_to_harvest": 7, "hours_to_reentry": 24},
    "trap_set": {"trap": "Door"},
    "trap_read": {"trap": "Door", "count": 3},
    "pick": {"count": 5},
    "discard": {"count": 1},
    "store": {"place": "Cellar", "count": 9},
    "seed_treatment": {"method": "hot_water", "water_c": 50, "duration_min": 25},
    "inspect": {"result": "sound"},
    "signs": {"signs": ["leaf_curled"]},
    "spot": {"trouble": "phytophthora_blight"},
    "catch_cans": {"volumes_ml": [41, 38.5, 44]},
    "solarise": {"step": "laid"},
    "wish": {"crop": "pepper", "season": 2027},
    "photo": {"sha256": "5e" * 32, "type": "image/jpeg"},
    "day_weather": {"wind_m_s": 2},
    "forecast": {"low_c": 3},
    "rain": {"depth_mm": 4},
    "leaf_wetness": {"wet": True},
    "air_temperature": {"low_c": 11, "high_c": 24},
    "soil_temperature": {"temperature_c": 17},
    "note": {"text": "A toad lives here."},
    "decline": {"reason": "Leaves are dark enough."},
}


def an_id(number: int) -> str:
    """An id that is the same on every run and sorts by its number."""
    return new_id(START * 1000 + number, number.to_bytes(10, "big"))


GARDEN, NOTEBOOK, DEVICE, PERSON = an_id(1), an_id(2), an_id(3), an_id(4)
BED, PLANTING = an_id(11), an_id(12)


def an_entry(kind: str = "pick", **given: Any) -> Entry:
    """A valid entry of a kind; any part of it may be given, None leaves that part out."""
    entry_id = given.get("id") or {"bed": BED, "planting": PLANTING}.get(kind, an_id(100))
    entry: Entry = {
        "id": entry_id,
        "garden": GARDEN,
        "notebook": NOTEBOOK,
        "number": 1,
        "kind": kind,
        "version": 1,
        "subjects": subjects_for(kind),
        "happened_at": moment_text(START, OFFSET_MINUTES),
        "recorded_at": moment_text(START + 60, OFFSET_MINUTES),
        "clock": tick(FIRST_CLOCK, START * 1000),
        "device": DEVICE,
        "person": PERSON,
        "details": dict(LEAST_DETAILS.get(kind, {})),
    }
    if kind in ("bed", "planting"):
        entry["subjects"][kind] = entry_id
    if kind == "decline":
        entry["answers"] = f"side_dress/planting:{PLANTING}/1"
    if kind in ("correct", "void"):
        entry["details"] = {"entry": an_id(90)}
    if kind == "correct":
        entry["details"] |= {"kind": "pick", "restated": {"count": 4}}
    entry |= given
    return {name: value for name, value in entry.items() if value is not None}


def a_bed(**details: Any) -> Entry:
    """The entry that makes a bed, BED unless an `id` is given."""
    given = {"id": details.pop("id")} if "id" in details else {}
    return an_entry("bed", details=LEAST_DETAILS["bed"] | details, **given)


def a_planting(*, bed: str | None = BED, **details: Any) -> Entry:
    """The entry that makes a planting, PLANTING in BED unless given otherwise."""
    entry_id = details.pop("id", PLANTING)
    subjects = {"planting": entry_id} | ({} if bed is None else {"bed": bed})
    written = LEAST_DETAILS["planting"] | details
    return an_entry("planting", id=entry_id, subjects=subjects, details=written)


def subjects_for(kind: str) -> dict[str, Any]:
    """What a kind may be about: a bed and a planting where it takes them, plants if it must."""
    rules = KINDS[kind].subjects if kind in KINDS else {"bed": "optional"}
    subjects: dict[str, Any] = {}
    if rules.get("bed", "none") != "none" and kind != "void":
        subjects["bed"] = BED
    if rules.get("planting", "none") != "none" and kind != "void":
        subjects["planting"] = PLANTING
    if rules.get("plants") == "required":
        subjects["plants"] = [1]
    return subjects


class Book:
    """A garden's log as several notebooks write it, one entry a minute unless told otherwise."""

    def __init__(self, *, garden: str = GARDEN, first_id: int = 1000) -> None:
        self.garden = garden
        self.entries: list[Entry] = []
        self._next_id = first_id
        self._instant = START
        self._numbers: dict[int, int] = {}
        self._clocks: dict[int, str] = {}

    def write(
        self,
        kind: str,
        details: dict[str, Any] | None = None,
        *,
        at: int | None = None,
        notebook: int = 0,
        **given: Any,
    ) -> Entry:
        """Add an entry; `at` is the instant it happened, subjects are given as bed=, planting=."""
        self._instant += 60
        self._next_id += 1
        self._numbers[notebook] = self._numbers.get(notebook, 0) + 1
        clock = tick(self._clocks.get(notebook, FIRST_CLOCK), self._instant * 1000)
        self._clocks[notebook] = clock
        slots = ("bed", "planting", "plants")
        subjects = {slot: given.pop(slot) for slot in slots if given.get(slot) is not None}
        entry_id = given.pop("id", None) or an_id(self._next_id)
        if kind in ("bed", "planting"):
            subjects.setdefault(kind, entry_id)
        entry = an_entry(kind) | {
            "id": entry_id,
            "garden": self.garden,
            "notebook": an_id(20 + notebook),
            "number": self._numbers[notebook],
            "subjects": subjects,
            "happened_at": moment_text(self._instant if at is None else at, OFFSET_MINUTES),
            "recorded_at": moment_text(self._instant, OFFSET_MINUTES),
            "clock": clock,
            "device": an_id(30 + notebook),
            "person": an_id(40 + notebook),
        }
        if details is not None:
            entry["details"] = details
        entry |= given
        self.entries.append(entry)
        return entry

    def correct(self, root: Entry, details: dict[str, Any], **given: Any) -> Entry:
        """Tell an entry again with other details, and other subjects or time where given."""
        kept = dict(root["subjects"])
        if "at" not in given:
            kept["happened_at"] = root["happened_at"]
        restated = {"entry": root["id"], "kind": root["kind"], "restated": details}
        return self.write("correct", restated, **(kept | given))

    def void(self, root: Entry, **given: Any) -> Entry:
        """Take an entry back."""
        return self.write("void", {"entry": root["id"]}, **given)
