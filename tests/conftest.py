"""What holds for all tests: what the machine lacks is said, and `--all` accepts no skip."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from pathlib import Path
from typing import Any

import hypothesis
import pytest

from tests import needs

TESTS = Path(__file__).parent
LACKING = pytest.StashKey[dict[needs.Need, int]]()

# A slow machine is no failure, and a failure must be found again from what was printed.
hypothesis.settings.register_profile("shedbook", deadline=None, print_blob=True)
hypothesis.settings.load_profile("shedbook")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--all", action="store_true", help="a skipped test is a failed test")


def pytest_configure(config: pytest.Config) -> None:
    config.stash[LACKING] = {}


@pytest.fixture(scope="session")
def postgresql_server() -> Iterator[str]:
    """One PostgreSQL for the whole run; each test makes a database of its own in it."""
    # A run that needs none must not need its driver either.
    from tests.storage.postgresql import running_postgresql

    with running_postgresql() as address:
        yield address


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    """Before any fixture starts, see whether the machine has what the test needs."""
    for need in needs_of(item):
        if not need.is_there():
            lacking = item.config.stash[LACKING]
            lacking[need] = lacking.get(need, 0) + 1
            pytest.skip(f"{need.name} missing: {need.install}")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Generator[None, Any, Any]:
    report = yield
    return without_skip(report, item.config)


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector: pytest.Collector) -> Generator[None, Any, Any]:
    report = yield
    return without_skip(report, collector.config)


def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> None:
    """The last thing read before pytest's own closing line."""
    for need, count in config.stash[LACKING].items():
        terminalreporter.write_line(
            f"incomplete: tests not run: {count}; {need.name} missing: {need.install}",
            yellow=True,
        )


def needs_of(item: pytest.Item) -> list[needs.Need]:
    """By the test's folder and by its markers."""
    folder = item.path.relative_to(TESTS).parts[0]
    marked = [need for name, need in needs.BY_MARKER.items() if item.get_closest_marker(name)]
    return [*filter(None, [needs.BY_FOLDER.get(folder)]), *marked]


def without_skip(report: Any, config: pytest.Config) -> Any:
    """With `--all`, a skip (and an expected failure) becomes a failure with its reason."""
    if config.getoption("all") and report.skipped:
        report.outcome = "failed"
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else "expected failure"
        report.longrepr = f"--all accepts no skip: {reason}"
        vars(report).pop("wasxfail", None)
    return report
