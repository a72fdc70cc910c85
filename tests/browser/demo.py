"""The demo garden at noon of its own day, served by a real shed."""

from __future__ import annotations

import json
from functools import cached_property
from typing import Any

from tests.browser.shed import Shed, noon_zone

MAKE_DEMO = """
import json
from datetime import datetime
from zoneinfo import ZoneInfo
from shedbook import places
from shedbook.records.people import LEAD_LINK_LIFETIME_S, invite
from shedbook.serving.app import open_data
sys.path.append(str(places.SEED_DEMO.parent))
from seed_demo.send import build_demo
now = datetime.now(ZoneInfo(ZONE))
demo = build_demo(open_data(data), now.date(), int(now.timestamp() * 1000), ZONE)
with app.app_context():
    codes = {"lead": [invite(demo.garden_id, "lead", "Marit", LEAD_LINK_LIFETIME_S).code
                      for _ in range(12)]}
(data / "codes.json").write_text(json.dumps(codes), encoding="utf-8")
made = [entry for book in demo.notebooks.values() for entry in book.entries]
(data / "made.json").write_text(json.dumps(made), encoding="utf-8")
"""


class DemoShed(Shed):
    """A shed with the demo garden in it."""

    def make_garden(self) -> None:
        self.python(f"ZONE = {noon_zone()!r}\n{MAKE_DEMO}")

    @cached_property
    def made(self) -> list[dict[str, Any]]:
        """The entries of the season as the demo wrote them."""
        written = (self.data / "made.json").read_text(encoding="utf-8")
        entries: list[dict[str, Any]] = json.loads(written)
        return entries

    def bed(self, name: str) -> str:
        """The id of a bed."""
        return next(
            entry["id"]
            for entry in self.made
            if entry["kind"] == "bed" and entry["details"].get("name") == name
        )

    def planting(self, variety: str) -> str:
        """The id of the newest planting of a variety."""
        return max(
            entry["id"]
            for entry in self.made
            if entry["kind"] == "planting" and entry["details"].get("variety") == variety
        )

    def last_planned(self) -> str:
        """The id of the planting that stands in the plan alone."""
        return self.planting("short red sweet")

    def last(self, kind: str) -> str:
        """The id of the newest entry of a kind."""
        return max(entry["id"] for entry in self.made if entry["kind"] == kind)
