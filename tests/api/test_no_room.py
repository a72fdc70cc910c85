"""A store that takes nothing: what a phone is told, and that the same goes in once afterwards.

The real disks are in tests/sync/test_disk_full.py; here SQLite is told to stop growing.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import event
from sqlalchemy.exc import OperationalError

from shedbook.records.engine import writing
from shedbook.records.models import db
from shedbook.records.refusals import StoreFull, StoreReadOnly, find_refusal
from tests.api.builders import Phone, error_of


@contextmanager
def under(app: Flask, pragma: str) -> Iterator[None]:
    """Every connection of the app works under a pragma for a while."""

    def connect(connection: sqlite3.Connection, _record: Any) -> None:
        connection.execute(f"PRAGMA {pragma}")

    with app.app_context():
        engine = db.engine
    engine.dispose()
    event.listen(engine, "connect", connect)
    try:
        yield
    finally:
        event.remove(engine, "connect", connect)
        engine.dispose()


def a_batch(phone: Phone) -> dict[str, Any]:
    entries = [phone.entry(details={"text": "x" * 3000}) for _ in range(100)]
    return {"notebook": phone.notebook, "entries": entries, "waiting": 100}


@pytest.mark.parametrize(
    ("pragma", "status", "code"),
    [("max_page_count = 1", 507, "no_room"), ("query_only = ON", 503, "read_only")],
)
def test_a_push_is_refused_in_words_and_goes_in_once_when_the_store_takes_it_again(
    app: Flask, lead: Phone, pragma: str, status: int, code: str
) -> None:
    first = lead.entry()
    lead.sync([first])
    batch = a_batch(lead)
    with under(app, pragma):
        response = lead.post("/sync", batch)
        assert (response.status_code, error_of(response)["code"]) == (status, code)
        assert response.headers["Retry-After"] == "60"
        pulled = lead.sync(waiting=100)
        assert [entry["id"] for entry in pulled["entries"]] == [first["id"]]
        assert lead.get("/findings").status_code == 200
        assert lead.client.get("/api/session").status_code == 200
    answer = lead.sync(batch["entries"])
    assert [one["seq"] for one in answer["answers"]] == list(range(2, 102))
    again = lead.sync(batch["entries"])
    assert {one["result"] for one in again["answers"]} == {"known"}
    assert (again["head"], again["notebook"]["unbroken"]) == (101, 101)


class _Said(Exception):
    sqlstate = ""


@pytest.mark.parametrize(("sqlstate", "kind"), [("53100", StoreFull), ("25006", StoreReadOnly)])
def test_postgresql_says_the_same_in_its_own_codes(
    app: Flask, garden: str, sqlstate: str, kind: type[Exception]
) -> None:
    cause = _Said()
    cause.sqlstate = sqlstate
    error = OperationalError("INSERT", {}, cause)
    with app.app_context():
        assert isinstance(find_refusal(error, db.engine), kind)
        with pytest.raises(kind), writing():
            raise error
