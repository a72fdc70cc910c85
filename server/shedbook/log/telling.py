"""How an entry is read once its corrections are known: the twin of client/log/telling.js.

An entry that corrects or voids names a *root* entry. The root as it is told last is its *telling*;
whatever is folded is folded from tellings, in the order of the roots' stamps, so that the order in
which entries arrive decides nothing.
"""

from collections.abc import Iterable
from typing import Any, NamedTuple

from shedbook.log.moment import Moment, parse_moment

Entry = dict[str, Any]
Json = dict[str, Any]

# The highest version of any kind that this program reads.
KNOWN_VERSION = 1
GARDEN_KINDS = ("garden", "setting")
PLACE_KINDS = ("garden", "setting", "bed", "planting", "plant")
MENDING_KINDS = ("correct", "void")
WEATHER_KINDS = (
    "rain",
    "leaf_wetness",
    "air_temperature",
    "soil_temperature",
    "day_weather",
    "forecast",
)
# Without a bed or planting these hold for the whole garden, as the state of a store does.
GARDEN_WIDE_KINDS = (*WEATHER_KINDS, "store", "trap_set", "trap_read")
# Events that change what is known of a planting.
SHAPING_KINDS = ("sow", "emerge", "transplant", "pick", "remove_plant")


class Held(NamedTuple):
    """An entry with the clock that folds go by."""

    order: str
    entry: Entry


class Telling(NamedTuple):
    """A root as it is told last; `voided` when the last word on it took it back."""

    order: str
    id: str
    kind: str
    subjects: Json
    details: Json
    voided: bool
    day: int
    event: Json | None


def is_read(entry: Entry) -> bool:
    """Whether this version understands the entry; what it does not, it keeps and leaves alone.

    A kind that is not named in this module is an event like any other, which only a rule or a form
    that knows the kind will look at: so a new kind of work needs no line here.
    """
    version = entry.get("version")
    return isinstance(version, int | float) and version <= KNOWN_VERSION


def root_of(entry: Entry) -> str:
    """The id of the root that an entry is, corrects or voids."""
    if entry["kind"] in MENDING_KINDS:
        root: str = entry["details"]["entry"]
        return root
    own: str = entry["id"]
    return own


def is_later(one: Held, other: Held | None) -> bool:
    """Whether one entry wins over another, by (order, id)."""
    if other is None or one.order > other.order:
        return True
    return one.order == other.order and bool(one.entry["id"] > other.entry["id"])


def tell(root: Held, mendings: Iterable[Held]) -> Telling:
    """The root as the last correction tells it, and whether a later void takes it back."""
    correct: Held | None = None
    void: Held | None = None
    for mending in mendings:
        if mending.entry["kind"] == "void":
            void = mending if is_later(mending, void) else void
        elif mending.entry["details"]["kind"] == root.entry["kind"]:
            correct = mending if is_later(mending, correct) else correct
    if void is not None and correct is not None and is_later(correct, void):
        void = None
    told = root.entry if correct is None else correct.entry
    details: Json = told["details"] if correct is None else told["details"]["restated"]
    kind, entry_id = root.entry["kind"], root.entry["id"]
    moment = parse_moment(told["happened_at"])
    event = None
    if kind not in PLACE_KINDS and (void is None or kind == "treat"):
        event = _event(root, told, moment, details, void)
    subjects = _place_subjects(root.entry, told)
    is_void = void is not None
    return Telling(root.order, entry_id, kind, subjects, details, is_void, moment.day, event)


def _place_subjects(root: Entry, told: Entry) -> Json:
    """A correction may move an event, but never turn a bed or planting into another one."""
    subjects: Json = told["subjects"]
    if root["kind"] == "bed":
        return subjects | {"bed": root["subjects"]["bed"]}
    if root["kind"] in ("planting", "plant"):
        return subjects | {"planting": root["subjects"]["planting"]}
    return subjects


def _event(root: Held, told: Entry, moment: Moment, details: Json, void: Held | None) -> Json:
    event: Json = {
        "id": root.entry["id"],
        "kind": root.entry["kind"],
        "day": moment.day,
        "hour": moment.hour,
        "minute": moment.minute,
        "instant": moment.instant,
        "order": root.order,
        "details": details,
    }
    subjects = told["subjects"]
    for slot in ("bed", "planting"):
        if slot in subjects:
            event[slot] = subjects[slot]
    if "plants" in subjects:
        event["plants"] = sorted(int(plant) for plant in subjects["plants"])
    if "answers" in told:
        event["answers"] = told["answers"]
    for name in ("person", "device"):
        if name in root.entry:
            event[name] = root.entry[name]
    if void is not None:
        event["lifted"] = {"instant": parse_moment(void.entry["happened_at"]).instant}
        if "person" in void.entry:
            event["lifted"]["person"] = void.entry["person"]
    return event
