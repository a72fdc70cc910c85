"""A real server process on a real socket, over SQLite and PostgreSQL, ended in any case."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from shedbook.serving.app import LOG_FILE, open_data
from tests.storage.postgresql import ENGINES, new_database
from tests.sync.forked import ForkedShed, Maker, running_maker


@pytest.fixture(scope="session")
def maker(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Maker]:
    with running_maker(tmp_path_factory.mktemp("maker") / "output.txt") as made:
        yield made


@pytest.fixture(scope="session")
def empty_data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder whose tables have no row; to be copied."""
    folder = tmp_path_factory.mktemp("empty")
    open_data(folder)
    return folder


@pytest.fixture(scope="session")
def empty_database(postgresql_server: str) -> str:
    """The same in PostgreSQL."""
    made = new_database(postgresql_server)
    open_data(database_url=made)
    return made


@pytest.fixture(params=ENGINES)
def database_url(request: pytest.FixtureRequest) -> str | None:
    """A database with tables; None for the file in the data folder."""
    if request.param == "sqlite":
        return None
    server = request.getfixturevalue("postgresql_server")
    return new_database(server, like=request.getfixturevalue("empty_database"))


@pytest.fixture
def cold_shed(
    tmp_path: Path, empty_data: Path, maker: Maker, database_url: str | None
) -> Iterator[ForkedShed]:
    """A shed that has not been started."""
    (tmp_path / "data").mkdir(mode=0o700)
    shutil.copy(empty_data / LOG_FILE, tmp_path / "data")
    shed = ForkedShed(tmp_path, database_url)
    shed.maker = maker
    yield shed
    shed.close()


@pytest.fixture
def shed(cold_shed: ForkedShed) -> ForkedShed:
    cold_shed.start()
    return cold_shed
