"""What the machine can do at best, measured in the same run as what it is compared with."""

import sqlite3
import statistics
import time
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks.log_entries import Entry, json_text

# The narrowest table that could hold a log: no check, no number of its own, no index.
TABLE = "CREATE TABLE log (seq INTEGER PRIMARY KEY, id TEXT NOT NULL, body TEXT NOT NULL)"
INSERT = "INSERT INTO log VALUES (?, ?, ?)"
# What a push fills.
OWN_TABLES = ("entries", "arrivals")


class Row(NamedTuple):
    """One line of the table: a measured figure beside its reference, and what is aimed at.

    `better` says which way the ratio should lie: "at least" or "at most".
    """

    name: str
    measured: str
    reference: str
    ratio: float
    aim: str


def raw_insert_s(folder: Path, entries: Sequence[Entry], batch: int) -> float:
    """Seconds in which sqlite3 stores the entries' texts, synced to the disk once a batch.

    The rows are ready before the clock starts. The file stays for `raw_fetch_s`.
    """
    file = raw_file(folder)
    file.unlink(missing_ok=True)
    rows = [(seq, entry["id"], json_text(entry)) for seq, entry in enumerate(entries, 1)]
    store = sqlite3.connect(file, isolation_level=None)
    try:
        for pragma in ("journal_mode=WAL", "synchronous=FULL"):
            store.execute(f"PRAGMA {pragma}")
        store.execute(TABLE)
        begun = time.perf_counter()
        for first in range(0, len(rows), batch):
            store.execute("BEGIN IMMEDIATE")
            store.executemany(INSERT, rows[first : first + batch])
            store.execute("COMMIT")
        taken_s = time.perf_counter() - begun
        assert store.execute("SELECT count(*) FROM log").fetchone() == (len(entries),)
    finally:
        store.close()
    return taken_s


def own_insert_s(folder: Path, shed_file: Path, batch: int) -> float:
    """Seconds in which sqlite3 alone stores the rows that a push has left in a shed, synced to the
    disk once a batch: the log's table and the arrived numbers, with the same keys and indexes.

    The rows are ready before the clock starts; `folder` must be another than the shed's.
    """
    with closing(sqlite3.connect(shed_file)) as shed:
        tables = {name: shed.execute(f"SELECT * FROM {name}").fetchall() for name in OWN_TABLES}
        named = ",".join("?" * len(OWN_TABLES))
        forms = shed.execute(
            f"SELECT sql FROM sqlite_master WHERE tbl_name IN ({named}) AND sql IS NOT NULL "
            "ORDER BY type = 'index'",
            OWN_TABLES,
        ).fetchall()
    store = sqlite3.connect(folder / "own.db", isolation_level=None)
    with closing(store):
        for pragma in ("journal_mode=WAL", "synchronous=FULL"):
            store.execute(f"PRAGMA {pragma}")
        for (form,) in forms:
            store.execute(form)
        count = len(tables[OWN_TABLES[0]])
        begun = time.perf_counter()
        for first in range(0, count, batch):
            store.execute("BEGIN IMMEDIATE")
            for name, rows in tables.items():
                slots = ",".join("?" * len(rows[0]))
                insert = f"INSERT INTO {name} VALUES ({slots})"
                store.executemany(insert, rows[first : first + batch])
            store.execute("COMMIT")
        taken_s = time.perf_counter() - begun
        assert store.execute(f"SELECT count(*) FROM {OWN_TABLES[0]}").fetchone() == (count,)
    return taken_s


def own_fetch_s(shed_file: Path) -> float:
    """Seconds in which sqlite3 alone gives back a shed's log, as far as a page tells of it."""
    with closing(sqlite3.connect(shed_file)) as shed:
        begun = time.perf_counter()
        rows = shed.execute(
            'SELECT seq, id, body, "order", received_at_ms FROM entries ORDER BY garden_id, seq'
        ).fetchall()
        taken_s = time.perf_counter() - begun
    assert rows, "a shed is filled first"
    return taken_s


def raw_fetch_s(folder: Path) -> float:
    """Seconds in which sqlite3 gives back all that `raw_insert_s` has stored in this folder."""
    store = sqlite3.connect(raw_file(folder))
    try:
        begun = time.perf_counter()
        rows = store.execute("SELECT seq, id, body FROM log ORDER BY seq").fetchall()
        taken_s = time.perf_counter() - begun
    finally:
        store.close()
    assert rows, "raw_insert_s stores the entries first"
    return taken_s


def raw_file(folder: Path) -> Path:
    """Where the raw entries lie."""
    return folder / "raw.db"


def seconds(work: Callable[[], object]) -> float:
    """How long a piece of work takes."""
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def median(values: Iterable[float]) -> float:
    """The middle of several repeats, which one disturbance doesn't move."""
    return statistics.median(values)
