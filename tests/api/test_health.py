"""/healthz and /readyz: for a process manager or a proxy."""

import shutil
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import event, text

from shedbook.records import readiness
from shedbook.records.models import db
from tests.api.builders import NOW_MS, Clock, Phone, error_of

MINUTE_MS = 60_000


def problems_of(app: Flask) -> dict[str, list[str]]:
    """What /readyz names; nothing where the shed is ready."""
    response = app.test_client().get("/readyz")
    if response.status_code == 200:
        assert response.get_json() == {"status": "ok"}
        return {}
    assert response.status_code == 503
    error = error_of(response)
    assert error["code"] == "not_ready"
    fields: dict[str, list[str]] = error["fields"]
    return fields


@pytest.mark.parametrize("path", ["/healthz", "/readyz"])
def test_health_is_told_to_anyone_and_never_kept(app: Flask, path: str) -> None:
    response = app.test_client().get(path)
    assert response.get_json() == {"status": "ok"}
    assert response.headers["Cache-Control"] == "no-store"


def test_health_touches_no_store(app: Flask) -> None:
    asked: list[str] = []

    def note(*given: Any) -> None:
        asked.append(given[2])

    with app.app_context():
        event.listen(db.engine, "before_cursor_execute", note)
        assert app.test_client().get("/healthz").status_code == 200
        assert asked == []
        assert app.test_client().get("/readyz").status_code == 200
        assert asked


@pytest.mark.parametrize(
    ("schema", "said"), [("0000", "newer Shedbook"), ("0001", "shedbook upgrade")]
)
def test_tables_of_another_version_are_not_ready(app: Flask, schema: str, said: str) -> None:
    with app.app_context(), db.engine.begin() as connection:
        connection.execute(text(f"UPDATE alembic_version SET version_num = '{schema}'"))
    problems = problems_of(app)
    assert said in problems.pop("tables")[0]
    assert problems == {}


def test_a_store_that_is_gone_is_not_ready(app: Flask, tmp_path: Path) -> None:
    with app.app_context():
        db.engine.dispose()
        path = Path(str(db.engine.url.database))
    path.write_bytes(b"no store" * 1000)
    assert set(problems_of(app)) == {"store"}
    assert str(tmp_path) not in app.test_client().get("/readyz").get_data(as_text=True)


def test_a_disk_with_little_room_is_not_ready(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    room = shutil.disk_usage("/")._replace(free=readiness.LEAST_ROOM_BYTES - 1)
    monkeypatch.setattr("shedbook.records.readiness.shutil.disk_usage", lambda _: room)
    assert "almost full" in problems_of(app)["disk"][0]


@pytest.mark.parametrize(
    ("off_ms", "is_ready"),
    [(-4 * MINUTE_MS, True), (-6 * MINUTE_MS, False), (60 * MINUTE_MS, True)],
    ids=["four minutes back", "six minutes back", "an hour on"],
)
def test_a_clock_before_the_newest_entry_is_told(
    app: Flask, lead: Phone, clock: Clock, off_ms: int, is_ready: bool
) -> None:
    lead.sync([lead.entry()])
    clock.ms = NOW_MS + off_ms
    problems = problems_of(app)
    assert problems == {} if is_ready else "before the newest entry" in problems["clock"][0]


def test_a_clock_of_years_ago_is_told_on_an_empty_store(app: Flask, clock: Clock) -> None:
    clock.ms = 0
    assert "before 2024" in problems_of(app)["clock"][0]
