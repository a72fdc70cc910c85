"""Sheds for the tests of keeping: a garden with something of everything, and looks at a store."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from flask import Flask

from shedbook.keeping.export import log_lines
from shedbook.keeping.verify import Found, verify_garden
from shedbook.places import LOG_FILE
from shedbook.records.models import db
from shedbook.rules.rulebook import load_rulebook
from shedbook.serving.app import Config, create_app
from tests.api.builders import Clock, Phone


@dataclass(frozen=True)
class Season:
    """A copy of a shed with a season in it that nobody has opened yet."""

    data: Path
    garden: str


def closed(app: Flask) -> None:
    """No connection is left, so the file may be moved or looked into."""
    with app.app_context():
        db.session.remove()
        db.engine.dispose()


@contextmanager
def opened(folder: Path) -> Iterator[Flask]:
    """A shed over a folder for as long as the block lasts, within its app context."""
    app = create_app(Config(f"sqlite:///{folder / LOG_FILE}", clock_ms=Clock()))
    try:
        with app.app_context():
            yield app
    finally:
        closed(app)


def a_season(lead: Phone) -> dict[str, dict[str, Any]]:
    """Beds, a planting, work, a correction, something taken back, and something set aside."""
    bed, beside = lead.bed(name="North"), lead.bed(name="South")
    placed = {"bed": bed["id"]}
    planting = lead.planting(bed["id"], variety="long mild red", plants=6)
    both = placed | {"planting": planting["id"]}
    named = {
        "bed": bed,
        "beside": beside,
        "planting": planting,
        "neighbours": lead.entry("bed", {"beside": [beside["id"]]}, placed),
        "transplant": lead.entry("transplant", {}, both),
        "water": lead.entry("water", {"volume_l": 20, "method": "drip"}, placed),
        "pick": lead.entry("pick", {"count": 3}, both | {"plants": [1, 2, 3]}),
        "taken_back": lead.entry("weed", {"tool": "hoe"}, placed),
        "treat": lead.entry("treat", {"method": "product", "days_to_harvest": 7}, placed),
        "frost": lead.entry("air_temperature", {"low_c": -3.5}, {}),
        "wrong": lead.entry("water", {"volume_l": "much"}, placed),
    }
    told_again = {"entry": named["water"]["id"], "kind": "water", "restated": {"volume_l": 25}}
    named["correct"] = lead.entry("correct", told_again, placed)
    named["void"] = lead.entry("void", {"entry": named["taken_back"]["id"]})
    named["lift"] = lead.entry("void", {"entry": named["treat"]["id"]})
    named["mend"] = lead.entry("water", {"volume_l": 9}, placed, mends=named["wrong"]["id"])
    named["odd"] = lead.entry("rain", {"depth_mm": -1})
    for one in named.values():
        assert lead.push_one(one)["result"] in {"accepted", "set_aside"}, one
    assert lead.get("/findings").status_code == 200
    return named


def lines_of(folder: Path, garden: str) -> list[str]:
    """The export of a garden."""
    with opened(folder):
        return list(log_lines(db.session(), garden))


def look(folder: Path, garden: str) -> Found:
    """What verifying a garden finds."""
    with opened(folder):
        return verify_garden(db.session(), garden, load_rulebook())


def change(folder: Path, statement: str) -> None:
    """Change a store behind its back."""
    with closing(sqlite3.connect(folder / LOG_FILE)) as store, store:
        assert store.execute(statement).rowcount > 0


def cells_of(folder: Path, question: str) -> list[tuple[Any, ...]]:
    """Rows of a store."""
    with closing(sqlite3.connect(folder / LOG_FILE)) as store:
        return store.execute(question).fetchall()
