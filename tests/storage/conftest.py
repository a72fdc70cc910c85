"""Each storage test runs on SQLite and on a real PostgreSQL."""

import itertools
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
from flask import Flask

from shedbook.serving.app import Config, create_app, open_data
from tests.api.builders import Clock, Phone, a_garden, a_phone
from tests.storage.postgresql import running_postgresql

ENGINES = ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgresql)]
_numbers = itertools.count(1)


@pytest.fixture(scope="session")
def postgresql_server() -> Iterator[str]:
    with running_postgresql() as address:
        yield address


@pytest.fixture(params=ENGINES)
def empty_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A database without a table."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'empty.sqlite3'}"
    server = request.getfixturevalue("postgresql_server")
    name = f"store_{next(_numbers)}"
    with psycopg.connect(f"{server}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return f"{server}/{name}"


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def app(empty_url: str, clock: Clock) -> Iterator[Flask]:
    made = create_app(Config(open_data(database_url=empty_url), clock_ms=clock))
    yield made
    with made.app_context():
        made.extensions["sqlalchemy"].engine.dispose()


@pytest.fixture
def garden(app: Flask) -> str:
    return a_garden(app)


@pytest.fixture
def lead(app: Flask, garden: str) -> Phone:
    return a_phone(app, garden, "lead")
