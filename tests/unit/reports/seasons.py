"""Gardens with past seasons and wishes for the next one, written as a log."""

from random import Random
from typing import Any

from shedbook.log.ledger import Ledger

CROPS = (
    *("pepper", "tomato", "potato", "cucumber", "summer_squash", "bean", "pea", "cabbage"),
    *("onion", "garlic", "carrot", "lettuce", "beet", "spinach", "sweet_corn", "strawberry"),
)
TROUBLES = ("verticillium_wilt", "phytophthora_blight", "clubroot", "root_knot")


class Season:
    """Adds to a ledger; what is written later wins."""

    def __init__(self) -> None:
        self.ledger = Ledger()
        self._count = 0

    def write(
        self, kind: str, day: str, details: dict[str, Any], subjects: dict[str, str], entry_id: str
    ) -> None:
        self._count += 1
        entry = {
            "id": entry_id,
            "kind": kind,
            "version": 1,
            "subjects": subjects,
            "happened_at": f"{day}T09:00:00+00:00",
            "clock": f"{self._count:012x}0000",
            "details": details,
        }
        self.ledger.add([entry])

    def bed(self, bed: str, **details: Any) -> None:
        size = {"name": bed, "length_m": 4.0, "width_m": 1.25}
        self.write("bed", "2020-01-01", size | details, {"bed": bed}, bed)

    def planting(self, bed: str, crop: str, start: str, end: str | None = None) -> str:
        planting = f"{bed}-{crop}-{start}"
        subjects = {"planting": planting, "bed": bed}
        details = {"crop": crop} | ({} if end is None else {"ended_on": end})
        self.write("planting", start, details, subjects, planting)
        self.write("transplant", start, {}, subjects, f"{planting}-out")
        return planting

    def spot(self, bed: str, trouble: str, day: str) -> None:
        self.write("spot", day, {"trouble": trouble}, {"bed": bed}, f"{bed}-{trouble}-{day}")

    def wish(self, wish: str, crop: str, bed: str | None = None, **details: Any) -> None:
        subjects = {} if bed is None else {"bed": bed}
        self.write("wish", "2026-11-01", {"crop": crop, "season": 2027} | details, subjects, wish)


def random_season(seed: int, beds: int, wishes: int) -> Ledger:
    """Four years of crops in every bed, troubles in some, and wishes."""
    chance = Random(seed)
    season = Season()
    for at in range(beds):
        bed = f"b{at:02d}"
        beside = [f"b{at - 1:02d}"] if at % 6 else []
        season.bed(bed, length_m=chance.choice([3.0, 4.0, 6.0]), beside=beside)
        for year in range(2023, 2027):
            crop = chance.choice(CROPS)
            season.planting(bed, crop, f"{year}-05-10", f"{year}-10-01")
        if chance.random() < 0.3:
            season.spot(bed, chance.choice(TROUBLES), "2026-07-01")
    for at in range(wishes):
        area = chance.choice([1.0, 2.0, 2.5, 4.0, None])
        more = {} if area is None else {"area_m2": area}
        wanted = f"b{chance.randrange(beds):02d}" if chance.random() < 0.2 else None
        season.wish(f"w{at:02d}", chance.choice(CROPS), wanted, **more)
    return season.ledger
