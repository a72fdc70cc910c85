"""Why a store takes nothing at the moment, read from what the database and the disk say."""

import errno
import sqlite3
import tempfile
from pathlib import Path

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError

_NO_ROOM = frozenset({errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)})
_PROBE_BYTES = 64 * 1024


class CannotWrite(Exception):
    """The store takes nothing at the moment; what it holds can still be read."""


class StoreBusy(CannotWrite):
    """Another writer held the store for too long; the same request may be sent again."""


class StoreFull(CannotWrite):
    """The disk, or its quota, has no room left for what was to be written."""

    def __init__(self) -> None:
        super().__init__("The shed's disk has no room left. Free some, then try again.")


class StoreReadOnly(CannotWrite):
    """The disk or the database may be read, but not written to."""

    def __init__(self) -> None:
        super().__init__(
            "The shed's disk takes no writing. Look at the disk and at the rights of the data "
            "folder, then try again."
        )


def find_refusal(error: DBAPIError, engine: Engine) -> CannotWrite | None:
    """What an error of the database says about writing; None when it is about something else."""
    cause = error.orig
    if isinstance(cause, sqlite3.Error):
        return _refusal_of_sqlite(getattr(cause, "sqlite_errorcode", 0), engine)
    match getattr(cause, "sqlstate", None):
        case "55P03":  # the lock of the garden's row was not to be had in time
            return StoreBusy("Another writer holds the store.")
        case "53100":
            return StoreFull()
        case "25006":
            return StoreReadOnly()
    return None


def refusal_of_disk(folder: Path) -> CannotWrite | None:
    """What the disk says to a small file; a file system that went read-only is not listed so."""
    try:
        with tempfile.TemporaryFile(dir=folder) as probe:
            probe.write(b"\0" * _PROBE_BYTES)
    except OSError as error:
        return StoreFull() if error.errno in _NO_ROOM else StoreReadOnly()
    return None


def folder_of(engine: Engine) -> Path | None:
    """Where the file of an SQLite store lies; None for a database elsewhere."""
    url = engine.url
    if url.get_backend_name() != "sqlite" or not url.database:
        return None
    return Path(url.database).resolve().parent


def _refusal_of_sqlite(code: int, engine: Engine) -> CannotWrite | None:
    # The low byte is the kind of error, the others say more about it.
    match code & 0xFF:
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return StoreBusy("Another writer holds the store.")
        case sqlite3.SQLITE_FULL:
            return StoreFull()
        case sqlite3.SQLITE_READONLY:
            return StoreReadOnly()
        case sqlite3.SQLITE_IOERR | sqlite3.SQLITE_CANTOPEN:
            # SQLite does not say whether the disk is broken, full or read-only: the disk does.
            folder = folder_of(engine)
            return refusal_of_disk(folder) if folder else None
    return None
