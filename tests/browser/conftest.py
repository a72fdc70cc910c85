"""A started shed, and phones that belong to nobody yet."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright, expect, sync_playwright

from tests import needs
from tests.browser.demo import DemoShed
from tests.browser.phone import Phone
from tests.browser.shed import PATIENCE_S, Shed


@pytest.fixture(scope="session")
def playwright_driver() -> Iterator[Playwright]:
    expect.set_options(timeout=PATIENCE_S * 1000)
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(playwright_driver: Playwright) -> Iterator[Browser]:
    """One browser for the tests that need no process of their own; each page stores apart."""
    browser = playwright_driver.chromium.launch(executable_path=needs.find_browser())
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def demo_garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with the demo garden, to be copied."""
    shed = DemoShed(tmp_path_factory.mktemp("demo") / "data")
    shed.make_garden()
    return shed.data


@pytest.fixture(scope="module")
def demo_shed(tmp_path_factory: pytest.TempPathFactory, demo_garden: Path) -> Iterator[DemoShed]:
    """A started shed with the demo garden; the tests of a module share it."""
    shed = DemoShed(tmp_path_factory.mktemp("demo") / "data")
    shutil.copytree(demo_garden, shed.data)
    shed.start()
    yield shed
    shed.kill()


@pytest.fixture(scope="session")
def empty_garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with one empty garden, to be copied."""
    shed = Shed(tmp_path_factory.mktemp("empty") / "data")
    shed.make_garden()
    return shed.data


@pytest.fixture
def shed(tmp_path: Path, empty_garden: Path) -> Iterator[Shed]:
    """A started shed with one empty garden."""
    shed = Shed(tmp_path / "data")
    shutil.copytree(empty_garden, shed.data)
    shed.start()
    try:
        yield shed
    finally:
        shed.kill()


@pytest.fixture
def new_phone(
    playwright_driver: Playwright, tmp_path: Path, shed: Shed
) -> Iterator[Callable[[], Phone]]:
    """Makes phones that belong to nobody yet."""
    phones: list[Phone] = []

    def make() -> Phone:
        phones.append(Phone(playwright_driver, tmp_path / f"phone-{len(phones)}", shed))
        return phones[-1]

    try:
        yield make
    finally:
        for phone in phones:
            phone.close()


@pytest.fixture
def phone(new_phone: Callable[[], Phone]) -> Phone:
    return new_phone()
