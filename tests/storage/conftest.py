"""Each storage test runs on SQLite and on a real PostgreSQL."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask

from shedbook.serving.app import Config, create_app, open_data
from tests.api.builders import Clock, Phone, a_garden, a_phone
from tests.storage.postgresql import ENGINES, new_database


@pytest.fixture(params=ENGINES)
def empty_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A database without a table."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'empty.sqlite3'}"
    return new_database(request.getfixturevalue("postgresql_server"))


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
