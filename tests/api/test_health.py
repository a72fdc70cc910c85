"""/healthz and /readyz: for a process manager or a proxy."""

import shutil
import sqlite3
import time
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import event, text

from shedbook.records import readiness
from shedbook.records.engine import BUSY_SECONDS
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
def test_tables_of_another_version_are_not_ready_and_the_log_alone_says_which(
    app: Flask, caplog: pytest.LogCaptureFixture, schema: str, said: str
) -> None:
    with app.app_context(), db.engine.begin() as connection:
        connection.execute(text(f"UPDATE alembic_version SET version_num = '{schema}'"))
    assert problems_of(app) == {"tables": [readiness.OTHER_TABLES]}
    (told,) = facts_of(caplog)
    assert said in told["problems"]["tables"][0]
    assert schema in told["problems"]["tables"][0]


def facts_of(caplog: pytest.LogCaptureFixture) -> list[dict[str, Any]]:
    """What the log was told of the shed not being ready."""
    return [vars(one)["facts"] for one in caplog.records if one.getMessage() == "not ready"]


def test_another_writer_keeps_nobody_waiting_and_is_told_once_it_stays(
    app: Flask, clock: Clock
) -> None:
    with app.app_context():
        path = str(db.engine.url.database)
        other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    begun = time.monotonic()
    # One who writes at this moment is no trouble.
    assert problems_of(app) == {}
    clock.ms += readiness.REMEMBERED_MS
    assert "Another writer" in problems_of(app)["store"][0]
    assert time.monotonic() - begun < BUSY_SECONDS / 2
    other.close()
    clock.ms += readiness.REMEMBERED_MS
    assert problems_of(app) == {}
    with app.app_context(), db.engine.connect() as connection:
        waits = connection.exec_driver_sql("PRAGMA busy_timeout").scalar()
    assert waits == BUSY_SECONDS * 1000


def test_what_was_found_is_told_again_for_a_while_and_logged_once(
    app: Flask,
    clock: Clock,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    room = shutil.disk_usage("/")._replace(free=readiness.LEAST_ROOM_BYTES - 1)
    looks: list[Any] = []
    monkeypatch.setattr(
        "shedbook.records.readiness.shutil.disk_usage", lambda where: looks.append(where) or room
    )
    for _ in range(20):
        assert set(problems_of(app)) == {"disk"}
    assert len(looks) == 1
    clock.ms += readiness.REMEMBERED_MS
    assert set(problems_of(app)) == {"disk"}
    assert len(looks) == 2
    assert len(facts_of(caplog)) == 1


def test_who_asks_while_another_looks_gets_what_was_found_before(app: Flask, clock: Clock) -> None:
    assert problems_of(app) == {}
    clock.ms += readiness.REMEMBERED_MS
    looking = app.extensions["shedbook"].readiness
    with looking._turn:
        assert problems_of(app) == {}


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
