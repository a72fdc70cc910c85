"""Rounds of looking for one disease and one moth: a patch that grows, and a lamp by the gate."""

from typing import Any

from seed_demo.draft import Season
from seed_demo.place import MAIN

# Days ago, and the plants that had it: they stand side by side across the two rows.
SPOT_ROUNDS = ((24, (5,)), (16, (4, 5, 6, 17)), (9, (3, 4, 5, 6, 16, 17, 18)))
LAMP_NIGHTS = ((3, 1), (2, 0), (1, 2))


def write_looking(season: Season) -> None:
    """A disease looked for on every plant, and a light trap that was hung and read."""
    where: dict[str, Any] = {"bed": MAIN.bed, "planting": MAIN.name}
    for days, affected in SPOT_ROUNDS:
        found = {
            "organism": "bacterial_spot",
            "plants_looked": MAIN.count,
            "plants_affected": len(affected),
        }
        season.tap(season.at(days, 11), "scout", found, **where)
        which = {"organism": "bacterial_spot", "grade": "few"}
        season.tap(season.at(days, 11, 10), "scout", which, plants=affected, **where)
    helpers = {"organism": "lady_beetles", "plants_looked": 12, "count": 5, "helpful": True}
    season.tap(season.at(4, 11), "scout", helpers, **where)
    lamp = {"trap": "Gate lamp", "trap_kind": "light", "organism": "european_corn_borer"}
    season.tap(season.at(10, 20), "trap_set", lamp)
    for days, count in LAMP_NIGHTS:
        read = {"trap": "Gate lamp", "organism": "european_corn_borer", "nights": 1}
        season.tap(season.at(days, 7), "trap_read", read | {"count": count})
