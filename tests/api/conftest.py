"""A shed in a folder of its own, with a garden and a phone of each role."""

import shutil
from pathlib import Path

import pytest
from flask import Flask

from shedbook.serving.app import LOG_FILE, Config, create_app, open_data
from tests.api.builders import Clock, Phone, a_garden, a_phone


@pytest.fixture(scope="session")
def empty_store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Tables without a row, made once; each test gets a copy."""
    folder = tmp_path_factory.mktemp("empty")
    open_data(folder)
    return folder / LOG_FILE


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def app(tmp_path: Path, empty_store: Path, clock: Clock) -> Flask:
    store = Path(shutil.copy(empty_store, tmp_path / LOG_FILE))
    return create_app(Config(f"sqlite:///{store}", clock_ms=clock))


@pytest.fixture
def garden(app: Flask) -> str:
    return a_garden(app)


@pytest.fixture
def lead(app: Flask, garden: str) -> Phone:
    return a_phone(app, garden, "lead")


@pytest.fixture
def helper(app: Flask, garden: str) -> Phone:
    return a_phone(app, garden, "helper")


@pytest.fixture
def reader(app: Flask, garden: str) -> Phone:
    return a_phone(app, garden, "reader")
