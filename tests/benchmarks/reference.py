"""What the machine can do at best, measured in the same run as what it is compared with."""

import sqlite3
import statistics
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any, NamedTuple

from tests.benchmarks.log_entries import Entry, json_text

# The narrowest table that could hold a log: no check, no number of its own, no index.
TABLE = "CREATE TABLE log (seq INTEGER PRIMARY KEY, id TEXT NOT NULL, body TEXT NOT NULL)"
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
    raw_file(folder).unlink(missing_ok=True)
    rows = [(seq, entry["id"], json_text(entry)) for seq, entry in enumerate(entries, 1)]
    return _insert_s(raw_file(folder), [TABLE], {"log": rows}, batch)


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
    return _insert_s(folder / "own.db", [form for (form,) in forms], tables, batch)


def _insert_s(
    file: Path, forms: Iterable[str], tables: Mapping[str, Sequence[tuple[Any, ...]]], batch: int
) -> float:
    """Seconds in which sqlite3 fills the new file's tables, which have as many rows each."""
    inserts = {
        f"INSERT INTO {name} VALUES ({','.join('?' * len(rows[0]))})": rows
        for name, rows in tables.items()
    }
    count = max(map(len, tables.values()))
    with closing(sqlite3.connect(file, isolation_level=None)) as store:
        for pragma in ("journal_mode=WAL", "synchronous=FULL"):
            store.execute(f"PRAGMA {pragma}")
        for form in forms:
            store.execute(form)
        begun = time.perf_counter()
        for first in range(0, count, batch):
            store.execute("BEGIN IMMEDIATE")
            for insert, rows in inserts.items():
                store.executemany(insert, rows[first : first + batch])
            store.execute("COMMIT")
        taken_s = time.perf_counter() - begun
        for name, rows in tables.items():
            assert store.execute(f"SELECT count(*) FROM {name}").fetchone() == (len(rows),)
    return taken_s


def own_fetch_s(shed_file: Path) -> float:
    """Seconds in which sqlite3 alone gives back a shed's log, as far as a page tells of it."""
    columns = 'seq, id, body, "order", received_at_ms'
    return _fetch_s(shed_file, f"SELECT {columns} FROM entries ORDER BY garden_id, seq")


def raw_fetch_s(folder: Path) -> float:
    """Seconds in which sqlite3 gives back all that `raw_insert_s` has stored in this folder."""
    return _fetch_s(raw_file(folder), "SELECT seq, id, body FROM log ORDER BY seq")


def _fetch_s(file: Path, question: str) -> float:
    with closing(sqlite3.connect(file)) as store:
        begun = time.perf_counter()
        rows = store.execute(question).fetchall()
        taken_s = time.perf_counter() - begun
    assert rows, "the store is filled first"
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
