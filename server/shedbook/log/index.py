"""Which tellings concern which bed or planting: the twin of client/log/index.js."""

from dataclasses import dataclass, field

from shedbook.log.telling import GARDEN_KINDS, GARDEN_WIDE_KINDS, SHAPING_KINDS, Json, Telling

Index = dict[str, set[str]]


@dataclass
class Touched:
    """The keys that a change touched, and the beds and plantings to fold again."""

    keys: set[str] = field(default_factory=set)
    beds: set[str] = field(default_factory=set)
    plantings: set[str] = field(default_factory=set)
    # Plantings with a treatment that names no bed, which every bed they stood in sees.
    treated: set[str] = field(default_factory=set)


class PlaceIndex:
    """Ids of tellings: those of places by what they shape, events by where they happened."""

    def __init__(self) -> None:
        self.garden: set[str] = set()
        self.beds: Index = {}
        self.plantings: Index = {}
        self.in_bed: Index = {}
        self.of_planting: Index = {}
        self.bedless_treats: Index = {}
        self.weather: set[str] = set()

    def put(self, telling: Telling, is_in: bool, touched: Touched) -> None:
        """Put a telling in or take it out, and note what must be folded again."""
        if telling.kind in GARDEN_KINDS:
            touched.keys.add("garden")
            put(self.garden, telling.id, is_in)
        elif telling.kind == "bed":
            touched.beds.add(telling.subjects["bed"])
            put_under(self.beds, telling.subjects["bed"], telling.id, is_in)
        elif telling.kind in ("planting", "plant"):
            touched.plantings.add(telling.subjects["planting"])
            put_under(self.plantings, telling.subjects["planting"], telling.id, is_in)
        elif telling.event is not None:
            self._put_event(telling.event, is_in, touched)
            if telling.kind in SHAPING_KINDS and "planting" in telling.event:
                touched.plantings.add(telling.event["planting"])

    def _put_event(self, event: Json, is_in: bool, touched: Touched) -> None:
        if "bed" in event:
            touched.keys.add(f"bed:{event['bed']}")
            put_under(self.in_bed, event["bed"], event["id"], is_in)
        if "planting" in event:
            touched.keys.add(f"planting:{event['planting']}")
            put_under(self.of_planting, event["planting"], event["id"], is_in)
            if event["kind"] == "treat" and "bed" not in event:
                touched.treated.add(event["planting"])
                put_under(self.bedless_treats, event["planting"], event["id"], is_in)
        is_placed = "bed" in event or "planting" in event
        if event["kind"] in GARDEN_WIDE_KINDS and not is_placed:
            touched.keys.add("garden")
            put(self.weather, event["id"], is_in)


def put(ids: set[str], one: str, is_in: bool) -> None:
    """Put one id into a set or take it out."""
    if is_in:
        ids.add(one)
    else:
        ids.discard(one)


def put_under(index: Index, key: str, one: str, is_in: bool) -> None:
    """Put one id under a key of an index or take it out."""
    put(index.setdefault(key, set()), one, is_in)
