"""A PostgreSQL server of the test run's own, started by hand on its own port and folder."""

import itertools
import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
import pytest

from tests import needs

# What a test that runs on both takes as its parameters.
ENGINES = ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgresql)]

# PostgreSQL refuses to run as root; Debian's package brings this user.
SERVER_USER = "postgres"
_numbers = itertools.count(1)


@contextmanager
def running_postgresql() -> Iterator[str]:
    """The address of a running server, without a database's name."""
    programs = needs.find_postgresql()
    assert programs is not None
    folder = Path(tempfile.mkdtemp(prefix="shedbook-postgresql-"))
    if os.geteuid() == 0:
        shutil.chown(folder, SERVER_USER)
    data, log = folder / "data", folder / "log"
    port = _free_port()
    try:
        _run(programs / "initdb", "-D", data, "-U", "shedbook", "-A", "trust", "-E", "UTF8")
        options = f"-p {port} -h 127.0.0.1 -k {folder} -F"
        _run(programs / "pg_ctl", "-D", data, "-l", log, "-w", "-o", options, "start")
        try:
            yield f"postgresql://shedbook@127.0.0.1:{port}"
        finally:
            _run(programs / "pg_ctl", "-D", data, "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def new_database(server: str, like: str | None = None) -> str:
    """The address of a database of a running server: without a table, or a copy of another."""
    name = f"store_{next(_numbers)}"
    template = f" TEMPLATE {like.rpartition('/')[2]}" if like else ""
    with psycopg.connect(f"{server}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}{template}")
    return f"{server}/{name}"


def _run(*command: object) -> None:
    user = SERVER_USER if os.geteuid() == 0 else None
    # To a file, never a pipe: the server that pg_ctl leaves behind would hold a pipe open.
    with tempfile.TemporaryFile() as output:
        ran = subprocess.run(
            [str(part) for part in command],
            user=user,
            cwd="/",
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
            check=False,
        )
        output.seek(0)
        assert ran.returncode == 0, output.read().decode()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
