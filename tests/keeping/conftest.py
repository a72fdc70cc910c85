"""Sheds in folders of their own: one with a phone to write by, one whose season is written."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask

from shedbook.keeping.backup import write_backup
from shedbook.places import LOG_FILE
from shedbook.serving.app import Config, create_app, open_data
from tests.api.builders import Clock, Phone, a_garden, a_phone
from tests.keeping.sheds import Season, a_season, closed


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return tmp_path / "data"


@pytest.fixture
def app(data: Path) -> Iterator[Flask]:
    made = create_app(Config(open_data(data), clock_ms=Clock()))
    yield made
    closed(made)


@pytest.fixture
def garden(app: Flask) -> str:
    return a_garden(app)


@pytest.fixture
def lead(app: Flask, garden: str) -> Phone:
    return a_phone(app, garden, "lead")


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory) -> Season:
    """A season, written once; what lies here is copied and never opened."""
    folder = tmp_path_factory.mktemp("season")
    app = create_app(Config(open_data(folder), clock_ms=Clock()))
    garden = a_garden(app)
    a_season(a_phone(app, garden, "lead"))
    closed(app)
    write_backup(folder / LOG_FILE, folder / "shed.zip")
    return Season(folder, garden)


@pytest.fixture
def season(written: Season, tmp_path: Path) -> Season:
    (tmp_path / "season").mkdir()
    shutil.copy(written.data / LOG_FILE, tmp_path / "season")
    return Season(tmp_path / "season", written.garden)


@pytest.fixture
def archive(written: Season, tmp_path: Path) -> Path:
    """A backup of that season."""
    return Path(shutil.copy(written.data / "shed.zip", tmp_path))
