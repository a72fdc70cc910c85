"""The garden's state, kept up to date entry by entry: the twin of client/log/ledger.js.

Any order, batching or duplication of the same entries gives the same ledger, and an entry costs
only what it touches: its root is told again, its bed or planting is folded again.
"""

from collections.abc import Iterable

from shedbook.log.fold import (
    GARDEN_FIELDS,
    counted,
    fold_bed,
    fold_fields,
    fold_planting,
    live_plants,
)
from shedbook.log.index import Index, PlaceIndex, Touched, put_under
from shedbook.log.telling import Entry, Json, Telling
from shedbook.log.tellings import Change, Tellings

__all__ = ["Ledger", "live_plants", "sort_by_time"]


class Ledger:
    """All entries of one garden and what they add up to.

    `add` answers which keys it touched: "garden", "bed:<id>", "planting:<id>". A bed's key stands
    for more than the bed: every planting in it sees the bed's fields, events and residents, and one
    that has left it still sees what was sprayed there. Whoever
    keeps results per subject must recompute what `reached_by(touched)` lists, no less.
    """

    def __init__(self) -> None:
        self._tellings = Tellings()
        self._index = PlaceIndex()
        self._settings: Json = {}
        self._beds: dict[str, Json] = {}
        self._plantings: dict[str, Json] = {}
        # By bed, the plantings that ever stood in it, also those that have left.
        self._ever_in: Index = {}
        self._named_beside: Index = {}
        self._sorted: dict[str, list[Json]] = {}

    def add(self, entries: Iterable[Entry]) -> set[str]:
        """Take entries in, known ones again without effect; the keys of what they touched."""
        return self._fold_again(self._tellings.add(entries))

    def forget(self, entry_ids: Iterable[str]) -> set[str]:
        """Leave entries out that were set aside or refused; the keys of what that touched."""
        return self._fold_again(self._tellings.forget(entry_ids))

    def reached_by(self, touched: Iterable[str]) -> list[str]:
        """Every "bed:<id>" and "planting:<id>" whose view may have changed, sorted."""
        reached = set()
        for key in touched:
            if key == "garden":
                reached |= {f"bed:{bed_id}" for bed_id in self._beds}
                reached |= {f"planting:{planting_id}" for planting_id in self._plantings}
                continue
            reached.add(key)
            if key.startswith("bed:"):
                plantings = self._ever_in.get(key[len("bed:") :], set())
                reached |= {f"planting:{planting_id}" for planting_id in plantings}
        return sorted(reached)

    def event(self, root_id: str) -> Json | None:
        """The event of a root as it is told last; None when there is none or it was voided."""
        telling = self._tellings.by_root.get(root_id)
        return None if telling is None else telling.event

    def bed(self, bed_id: str) -> Json | None:
        """A bed, hidden or not."""
        return self._beds.get(bed_id)

    def planting(self, planting_id: str) -> Json | None:
        """A planting, hidden or not."""
        return self._plantings.get(planting_id)

    def beds(self) -> list[Json]:
        """All beds, hidden ones too, by id."""
        return [self._beds[bed_id] for bed_id in sorted(self._beds)]

    def plantings(self) -> list[Json]:
        """All plantings, hidden ones too, by id."""
        return [self._plantings[planting_id] for planting_id in sorted(self._plantings)]

    def settings(self) -> Json:
        """The garden's name and settings."""
        return self._settings

    def residents(self, bed_id: str) -> list[Json]:
        """The plantings whose bed is this one, by id, without hidden ones."""
        found = [planting for planting in self.ever_in(bed_id) if planting["bed"] == bed_id]
        return [planting for planting in found if not planting["hidden"]]

    def ever_in(self, bed_id: str) -> list[Json]:
        """The plantings that stand or stood in this bed, by id, hidden ones too."""
        return [self._plantings[one] for one in sorted(self._ever_in.get(bed_id, ()))]

    def beds_beside(self, bed_id: str) -> list[str]:
        """The ids of beds that this bed names as beside it, or that name it."""
        own = self._beds.get(bed_id, {}).get("beside", [])
        return sorted((set(own) | self._named_beside.get(bed_id, set())) - {bed_id})

    def events_in_bed(self, bed_id: str) -> list[Json]:
        """Events that name this bed, by time."""
        return self._by_time(f"bed:{bed_id}", self._index.in_bed.get(bed_id, set()))

    def events_of_planting(self, planting_id: str) -> list[Json]:
        """Events that name this planting, by time."""
        return self._by_time(
            f"planting:{planting_id}", self._index.of_planting.get(planting_id, set())
        )

    def bedless_treats(self, planting_id: str) -> list[Json]:
        """Treatments that name this planting and no bed, by time."""
        return sort_by_time(self._events(self._index.bedless_treats.get(planting_id, ())))

    def weather(self) -> list[Json]:
        """Weather that holds for the whole garden, by time."""
        return self._by_time("garden", self._index.weather)

    def snapshot(self) -> Json:
        """Everything, as JSON in a fixed order."""
        tellings = self._told(sorted(self._tellings.by_root))
        return {
            "settings": self._settings,
            "beds": self.beds(),
            "plantings": self.plantings(),
            "events": [telling.event for telling in tellings if telling.event is not None],
            "unread": sorted(self._tellings.unread),
        }

    def _fold_again(self, changes: list[Change]) -> set[str]:
        touched = Touched()
        for old, new in changes:
            if old is not None:
                self._index.put(old, False, touched)
            if new is not None:
                self._index.put(new, True, touched)
        if "garden" in touched.keys:
            shape = counted(self._told(self._index.garden))
            self._settings = fold_fields(shape, GARDEN_FIELDS)
        for bed_id in touched.beds:
            self._fold_bed(bed_id, touched.keys)
        for planting_id in touched.plantings:
            self._fold_planting(planting_id, touched.keys)
        for planting_id in touched.treated:
            beds = self._plantings.get(planting_id, {}).get("beds", [])
            touched.keys.update(f"bed:{bed_id}" for bed_id in beds)
        for key in touched.keys:
            self._sorted.pop(key, None)
        return touched.keys

    def _fold_bed(self, bed_id: str, touched: set[str]) -> None:
        touched.add(f"bed:{bed_id}")
        self._touch_beside(bed_id, touched)
        for other in self._beds.pop(bed_id, {}).get("beside", []):
            put_under(self._named_beside, other, bed_id, False)
        shape = self._told(self._index.beds.get(bed_id, ()))
        if not shape:
            return
        bed = fold_bed(bed_id, shape)
        self._beds[bed_id] = bed
        for other in bed.get("beside", []):
            put_under(self._named_beside, other, bed_id, True)
        self._touch_beside(bed_id, touched)

    def _fold_planting(self, planting_id: str, touched: set[str]) -> None:
        old = self._plantings.pop(planting_id, None)
        shape = self._told(self._index.plantings.get(planting_id, ()))
        new = None
        if any(telling.kind == "planting" for telling in shape):
            events = self._events(self._index.of_planting.get(planting_id, ()))
            new = fold_planting(planting_id, shape, events)
            self._plantings[planting_id] = new
        touched.add(f"planting:{planting_id}")
        if old == new:
            return
        for planting in (old, new):
            if planting is None or "bed" not in planting:
                continue
            self._touch_beside(planting["bed"], touched)
            for bed_id in planting["beds"]:
                touched.add(f"bed:{bed_id}")
                put_under(self._ever_in, bed_id, planting_id, planting is new)

    def _touch_beside(self, bed_id: str, touched: set[str]) -> None:
        """Beds beside this one see its plantings as neighbours."""
        for other in self.beds_beside(bed_id):
            touched.add(f"bed:{other}")

    def _told(self, root_ids: Iterable[str]) -> list[Telling]:
        return [self._tellings.by_root[root_id] for root_id in root_ids]

    def _events(self, root_ids: Iterable[str]) -> list[Json]:
        told = self._told(root_ids)
        return [telling.event for telling in told if telling.event is not None]

    def _by_time(self, key: str, event_ids: set[str]) -> list[Json]:
        if key not in self._sorted:
            self._sorted[key] = sort_by_time(self._events(event_ids))
        return self._sorted[key]


def sort_by_time(events: list[Json]) -> list[Json]:
    """Events by (instant, order, id)."""
    return sorted(events, key=lambda event: (event["instant"], event["order"], event["id"]))
