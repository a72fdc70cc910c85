"""Gap-free numbers, all or nothing, and writers that take turns."""

import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import event, func, select, text

from shedbook.records import engine as records_engine
from shedbook.records.engine import writing
from shedbook.records.entries import entries_after
from shedbook.records.gardens import get_garden, lock_garden
from shedbook.records.models import Arrival, Entry, Home, Notebook, SetAside, db
from shedbook.records.refusals import StoreBusy
from tests.api.builders import Phone, a_garden, a_phone


def _sequence(app: Flask, garden: str) -> list[int]:
    with app.app_context():
        return list(
            db.session.scalars(
                select(Entry.seq).where(Entry.garden_id == garden).order_by(Entry.seq)
            )
        )


def test_sqlite_is_opened_durable_with_foreign_keys(app: Flask, lead: Phone) -> None:
    with app.app_context():
        if db.engine.dialect.name != "sqlite":
            assert db.session.scalar(text("SHOW transaction_isolation")) == "read committed"
            return
        settings = {
            name: db.session.scalar(text(f"PRAGMA {name}"))
            for name in ("journal_mode", "synchronous", "foreign_keys")
        }
    assert settings == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}


def test_writers_of_one_garden_at_once_leave_no_gap(app: Flask, garden: str) -> None:
    phones = [a_phone(app, garden, "helper", f"H{place}") for place in range(6)]
    batches = [[[phone.entry() for _ in range(7)] for _ in range(4)] for phone in phones]

    def send(place: int) -> None:
        for batch in batches[place]:
            answers = phones[place].sync(batch)["answers"]
            assert {one["result"] for one in answers} == {"accepted"}

    with ThreadPoolExecutor(len(phones)) as pool:
        list(pool.map(send, range(len(phones))))
    assert _sequence(app, garden) == list(range(1, 6 * 4 * 7 + 1))


def test_gardens_number_their_entries_apart(app: Flask, lead: Phone) -> None:
    other = a_phone(app, a_garden(app, "Away"))
    lead.sync([lead.entry(), lead.entry()])
    assert other.sync([other.entry()])["answers"][0]["seq"] == 1
    assert _sequence(app, lead.garden) == [1, 2]


def test_a_batch_that_fails_midway_leaves_nothing(
    app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("in the middle")

    batch = [lead.bed(), lead.entry("note", {"text": 5}), lead.entry()]
    with monkeypatch.context() as broken:
        broken.setattr("shedbook.sync.batch_store.forget_standing", fail)
        response = lead.post("/sync", {"notebook": lead.notebook, "entries": batch})
        assert response.status_code == 500
    with app.app_context():
        for table in (Entry, Arrival, Notebook, SetAside, Home):
            assert db.session.scalar(select(func.count()).select_from(table)) == 0
        assert get_garden(db.session(), lead.garden).head == 0
    results = [one["result"] for one in lead.sync(batch)["answers"]]
    assert results == ["accepted", "set_aside", "accepted"]


def test_a_reader_sees_no_entry_before_its_batch_is_whole(app: Flask, lead: Phone) -> None:
    lead.sync([lead.entry()])
    with app.app_context(), writing() as session:
        lock_garden(session, lead.garden).head += 1
        session.flush()
        seen: list[tuple[int, int]] = []

        def read() -> None:
            with app.app_context():
                entries = entries_after(db.session(), lead.garden, 0, 10)
                seen.append((get_garden(db.session(), lead.garden).head, len(entries)))

        reader = threading.Thread(target=read)
        reader.start()
        reader.join(5)
        assert seen == [(1, 1)]


def test_a_writer_that_waits_too_long_is_told_that_the_store_is_busy(
    app: Flask, lead: Phone
) -> None:
    """A second process holds the store: here a connection past the lock of this process."""
    with app.app_context():
        is_sqlite = db.engine.dialect.name == "sqlite"
        begin = {"shedbook_begin": "BEGIN IMMEDIATE"}
        rename = text("UPDATE gardens SET name = 'Held' WHERE id = :id")
        _wait_shortly(is_sqlite)
        with db.engine.connect().execution_options(**begin) as other, other.begin():
            other.execute(rename, {"id": lead.garden})
            with pytest.raises(StoreBusy):
                _write(lead.garden)


def _wait_shortly(is_sqlite: bool) -> None:
    """Every later connection gives up after 50 ms."""
    db.engine.dispose()

    @event.listens_for(db.engine, "connect")
    def shorten(connection: Any, _: object) -> None:
        with closing(connection.cursor()) as cursor:
            cursor.execute("PRAGMA busy_timeout = 50" if is_sqlite else "SET lock_timeout = 50")
        if not is_sqlite:
            connection.commit()


def _write(garden: str) -> None:
    with writing() as session:
        lock_garden(session, garden)


def test_writers_of_this_process_wait_for_their_turn_no_longer_than_told(
    app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(records_engine, "BUSY_SECONDS", 0.05)
    with app.app_context():
        if db.engine.dialect.name != "sqlite":
            return
        with writing():
            failed: list[BaseException] = []

            def write() -> None:
                try:
                    with app.app_context(), writing():
                        failed.append(AssertionError("two writers at once"))
                except StoreBusy as error:
                    failed.append(error)

            second = threading.Thread(target=write)
            second.start()
            second.join(5)
    assert [type(error) for error in failed] == [StoreBusy]
