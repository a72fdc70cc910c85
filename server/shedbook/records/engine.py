"""How transactions begin: one writer at a time, and readers that never wait for it."""

import sqlite3
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext, suppress
from typing import Any

from sqlalchemy import Connection, Engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from shedbook.records.models import db
from shedbook.records.refusals import StoreBusy, StoreReadOnly, find_refusal

BUSY_SECONDS = 10
_BEGIN = "shedbook_begin"

_writer = threading.Lock()


def now_ms() -> int:
    """Milliseconds since 1970, as the shed's clock has it."""
    return time.time_ns() // 1_000_000


def engine_options(url: str) -> dict[str, Any]:
    """What create_engine needs beside the address."""
    # An error of the database names its statement in the log, never what was to be written.
    common = {"hide_parameters": True}
    if url.startswith("sqlite"):
        return common | {"connect_args": {"timeout": BUSY_SECONDS, "check_same_thread": False}}
    wait = f"-c lock_timeout={BUSY_SECONDS * 1000}"
    return common | {
        "isolation_level": "READ COMMITTED",
        "connect_args": {"options": wait},
        "pool_pre_ping": True,
    }


def prepare_engine(engine: Engine) -> None:
    """On SQLite, take the beginning of transactions into our own hands."""
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _set_pragmas)
        event.listen(engine, "begin", _begin)


@contextmanager
def writing() -> Iterator[Session]:
    """One write transaction, committed at the end of the block and gone if the block raises.

    On SQLite it holds a lock of this process and then begins IMMEDIATE. A deferred transaction
    that reads first is refused as soon as another has written in between, and a busy timeout
    alone lets phones wait several times longer than their turn.
    """
    session = db.session()
    # An IMMEDIATE transaction can't grow out of one that has only read.
    session.rollback()
    with _turn(session.get_bind()):
        try:
            session.connection(execution_options={_BEGIN: "BEGIN IMMEDIATE"})
            yield session
            session.commit()
        except DBAPIError as error:
            session.rollback()
            if refusal := find_refusal(error, db.engine):
                raise refusal from error
            raise
        except BaseException:
            session.rollback()
            raise


def try_writing(engine: Engine) -> None:
    """Begin a write and leave it at once; no other writer is waited for. Raises CannotWrite."""
    try:
        with engine.connect() as connection:
            if engine.dialect.name == "sqlite":
                _try_at_once(connection)
            elif connection.exec_driver_sql("SHOW transaction_read_only").scalar() == "on":
                raise StoreReadOnly
    except DBAPIError as error:
        if refusal := find_refusal(error, engine):
            raise refusal from error
        raise


def _try_at_once(connection: Connection) -> None:
    own: Any = connection.connection.driver_connection
    own.execute("PRAGMA busy_timeout = 0")
    try:
        connection.execution_options(**{_BEGIN: "BEGIN IMMEDIATE"}).begin().rollback()
    finally:
        own.execute(f"PRAGMA busy_timeout = {BUSY_SECONDS * 1000}")


def close_store(engine: Engine) -> None:
    """Let go of the store. SQLite's log of recent writes goes into the main file, if it can."""
    if engine.dialect.name == "sqlite":
        with suppress(DBAPIError, sqlite3.Error), engine.connect() as connection:
            connection.connection.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
    engine.dispose()


@contextmanager
def _take_turn() -> Iterator[None]:
    if not _writer.acquire(timeout=BUSY_SECONDS):
        raise StoreBusy("Too many writers wait for the store.")
    try:
        yield
    finally:
        _writer.release()


def _turn(bind: Any) -> Any:
    return _take_turn() if bind.dialect.name == "sqlite" else nullcontext()


def _set_pragmas(connection: sqlite3.Connection, _record: Any) -> None:
    # None: the driver begins nothing by itself, `_begin` does.
    connection.isolation_level = None
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    connection.exec_driver_sql(connection.get_execution_options().get(_BEGIN, "BEGIN"))
