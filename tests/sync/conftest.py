"""A real server process on a real socket, ended whatever the test does."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.sync.process import ShedProcess


@pytest.fixture
def shed(tmp_path: Path) -> Iterator[ShedProcess]:
    made = ShedProcess(tmp_path)
    try:
        made.start()
        yield made
    finally:
        made.close()
