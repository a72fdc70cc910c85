"""A log of one bed with two rows of peppers, written by hand in local time."""

from typing import Any

from shedbook.log.ledger import Ledger
from shedbook.log.moment import parse_moment
from shedbook.rules.finding import Finding
from shedbook.rules.garden import findings_of_garden
from shedbook.rules.rulebook import load_rulebook

BED, PEPPERS = "bed-1", "peppers-1"
HERE = {"bed": BED, "planting": PEPPERS}


class Logbook:
    """Entries with one clock tick each, so that what is written later wins."""

    def __init__(self) -> None:
        self.ledger = Ledger()
        self._count = 0
        self.write("bed", "2020-01-05T09:00:00+01:00", {"name": "Long bed"}, {"bed": BED}, id=BED)
        peppers = {"crop": "pepper", "plants": 6, "rows": 2}
        self.write("planting", "2026-04-10T09:00:00+02:00", peppers, HERE, id=PEPPERS)
        self.write("transplant", "2026-04-10T10:00:00+02:00", {}, HERE, id="out")

    def write(
        self,
        kind: str,
        at: str,
        details: dict[str, Any],
        subjects: dict[str, Any] = HERE,
        **more: Any,
    ) -> set[str]:
        """Add an entry; the keys it touched."""
        self._count += 1
        entry = {
            "id": f"entry-{self._count}",
            "kind": kind,
            "version": 1,
            "subjects": subjects,
            "happened_at": at,
            "clock": f"{self._count:012x}0000",
            "person": "marit",
            "device": "phone",
            "details": details,
        }
        return self.ledger.add([entry | more])

    def findings(self, at: str, rule: str) -> list[Finding]:
        """What the rule finds in the whole garden at a moment."""
        moment = parse_moment(at)
        found = findings_of_garden(self.ledger, load_rulebook(), moment.day, moment.instant)
        return [made for made in found if made["rule"] == rule]
