"""A shed in a folder of its own, spoken to as a person at a terminal would."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from shedbook.cli.main import main

Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path) -> Iterator[Run]:
    """Runs a command over the same data folder each time."""
    yield from shared_run(tmp_path)


def shared_run(folder: Path) -> Iterator[Run]:
    """The same for a fixture that lives longer."""

    def run_command(*words: str) -> Result:
        return CliRunner().invoke(main, words, prog_name="shedbook", catch_exceptions=False)

    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SHEDBOOK_DATA", str(folder / "data"))
        patch.delenv("DATABASE_URL", raising=False)
        yield run_command
