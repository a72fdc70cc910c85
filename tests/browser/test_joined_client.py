"""The client as people get it, joined into few files: it is whole, and light on the first load."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, CDPSession, Page, expect

from shedbook import places
from tests.browser.demo import DemoShed
from tests.browser.places import addresses
from tests.browser.screens import PHONE, enter, go, keep_all, title

FIRST_LOAD_BYTES = 200_000


@pytest.fixture(scope="module")
def joined_shed(tmp_path_factory: pytest.TempPathFactory, demo_garden: Path) -> Iterator[DemoShed]:
    """A shed that serves the bundle, which the build step before the tests has made."""
    made_of = places.digest_of(places.source_files())
    assert places.bundle_is_made_of(made_of), "Make the bundle first: python server/build_client.py"
    shed = DemoShed(tmp_path_factory.mktemp("joined") / "data", client="joined")
    shutil.copytree(demo_garden, shed.data)
    shed.start()
    yield shed
    shed.kill()


def count_transfer(session: CDPSession) -> list[float]:
    """What has come over the wire from now on, by request, headers and packing included."""
    sizes: list[float] = []
    session.send("Network.enable")
    session.on("Network.loadingFinished", lambda event: sizes.append(event["encodedDataLength"]))
    return sizes


def test_every_screen_of_the_joined_client_opens_also_without_the_shed(
    browser: Browser, joined_shed: DemoShed
) -> None:
    page = enter(browser, joined_shed.lead_link(), **PHONE)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    keep_all(page)
    page.context.set_offline(True)
    page.reload()
    for route in addresses(page, joined_shed).values():
        go(page, route)
        assert title(page)
    assert faults == []


def test_first_load_takes_few_requests_and_stays_light(
    browser: Browser, joined_shed: DemoShed
) -> None:
    context = browser.new_context(**PHONE)
    page: Page = context.new_page()
    sizes = count_transfer(context.new_cdp_session(page))
    page.goto(joined_shed.origin)
    expect(page.get_by_role("heading").first).to_be_visible()
    of_the_page = list(sizes)
    page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    kept = page.evaluate(
        """async () => {
          const [name] = (await caches.keys()).filter((key) => key.startsWith('shedbook-'));
          return (await (await caches.open(name)).keys()).length;
        }"""
    )
    assert kept >= len(of_the_page)
    assert sum(of_the_page) < FIRST_LOAD_BYTES, of_the_page
