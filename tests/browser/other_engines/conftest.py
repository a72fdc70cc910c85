"""The other engines, each started for the one test that needs it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, Protocol

import pytest

from tests import needs


class Engine(Protocol):
    """What the tests ask of a browser, whichever way it is driven."""

    def open(self, address: str) -> None: ...
    def run(self, script: str) -> Any: ...
    def press(self, selector: str) -> None: ...
    def close(self) -> None: ...


@pytest.fixture(
    params=[
        pytest.param("firefox", marks=pytest.mark.firefox),
        pytest.param("webkit", marks=pytest.mark.webkit),
    ]
)
def engine(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Engine]:
    """A browser that has been nowhere yet."""
    started = start(request.param, tmp_path / request.param)
    yield started
    started.close()


def start(name: str, folder: Path) -> Engine:
    """Imported here: where an engine is missing, its driver's package may be missing too."""
    if name == "firefox":
        from tests.browser.other_engines.firefox import Firefox

        program = needs.find_firefox()
        assert program is not None
        return Firefox(program, folder)
    from tests.browser.other_engines.webkit import WebKit

    found = needs.find_webkit()
    assert found is not None
    return WebKit(found.driver, found.browser, folder)
