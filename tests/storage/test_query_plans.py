"""No request reads a whole garden's log: what it costs must not grow with the years."""

from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import event

from shedbook.records.models import db
from shedbook.serving.app import Config, create_app, open_data
from tests.api.builders import Clock, Phone, a_garden, a_phone


@pytest.fixture
def sqlite_app(tmp_path: Path) -> Flask:
    return create_app(Config(open_data(tmp_path), clock_ms=Clock()))


def _read_whole(plan: list[str]) -> bool:
    """Whether a step goes through all entries, all of one garden, or all that have a place."""
    too_wide = ("(garden_id=?)", "bed_id>?)", "planting_id>?)")
    return any(
        "entries" in step and (step.startswith("SCAN") or step.endswith(too_wide))
        for step in plan
        # Few entries hold for the whole garden, and only those are in this one.
        if "ix_entries_garden_wide" not in step
    )


def test_pushing_pulling_and_asking_for_findings_search_the_log_by_an_index(
    sqlite_app: Flask,
) -> None:
    phone: Phone = a_phone(sqlite_app, a_garden(sqlite_app))
    seen: dict[str, list[str]] = {}

    def explain(connection: Any, _: Any, statement: str, parameters: Any, *__: Any) -> None:
        if statement in seen or not statement.startswith(("SELECT", "UPDATE", "DELETE")):
            return
        raw = connection.connection.driver_connection
        rows = raw.execute(f"EXPLAIN QUERY PLAN {statement}", parameters).fetchall()
        seen[statement] = [row[3] for row in rows]

    with sqlite_app.app_context():
        event.listen(db.engine, "before_cursor_execute", explain)
    bed, other = phone.bed(), phone.bed()
    planting = phone.planting(bed["id"])
    water = phone.entry("water", {"volume_l": 3}, {"bed": bed["id"]})
    # With these a statement is searched by for the treatments and moves that many places share.
    fed = [phone.entry("feed", {}, {"bed": one["id"]}) for one in (bed, other)]
    phone.sync([bed, other, planting, water, *fed])
    subjects = {"bed": other["id"], "planting": planting["id"]}
    moved = phone.entry("transplant", {}, subjects)
    beside = phone.entry("bed", {"beside": [bed["id"]]}, {"bed": other["id"]})
    void = phone.entry("void", {"entry": water["id"]})
    phone.sync([moved, beside, void, phone.entry("rain", {"depth_mm": 4})], cursor=3)
    phone.get("/findings")
    phone.get("/entries?after=2")
    about_entries = {text: plan for text, plan in seen.items() if "entries" in text}
    assert len(about_entries) >= 5
    assert {text: plan for text, plan in about_entries.items() if _read_whole(plan)} == {}
