"""What a person does in front of a screen: go to a place, tap what is named, read what is there."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Browser, Locator, Page, expect

PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}
DESK: dict[str, Any] = {"viewport": {"width": 1280, "height": 900}}

# The screen is drawn in the same turn as the event, before the next frame.
GO = """(route) => new Promise((done) => {
  if (location.hash === route) return done();
  addEventListener('hashchange', () => requestAnimationFrame(() => done()), { once: true });
  location.hash = route;
})"""

# The worker's own text lists what it keeps.
ALL_IS_KEPT = """async () => {
  await navigator.serviceWorker.ready;
  const text = await (await fetch('/service-worker.js')).text();
  const lists = [...text.matchAll(/JSON\\.parse\\(`(\\[.*?\\])`\\)/g)]
    .map(([, list]) => JSON.parse(list));
  const isKept = async (address) => await caches.match(address) !== undefined;
  for (const address of lists.flat())
    while (!await isKept(address)) await new Promise((again) => setTimeout(again, 20));
}"""


class Thumb:
    """A thumb on the screen, which finds things by the names that a person reads. It counts."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = 0

    def tap(self, what: Locator) -> None:
        what.tap()
        self.taps += 1

    def button(self, name: str) -> None:
        self.tap(self.page.get_by_role("button", name=name, exact=True))

    def link(self, name: str) -> None:
        self.tap(self.page.get_by_role("link", name=name, exact=True))

    def choice(self, name: str) -> None:
        self.tap(self.page.get_by_role("radio", name=name, exact=True))

    def more(self) -> None:
        """Open the fields of a form that are not shown at first."""
        self.tap(self.page.get_by_text("More to write down", exact=True))

    def fill(self, label: str, text: str) -> None:
        self.page.get_by_role("textbox", name=re.compile(f"^{re.escape(label)}")).fill(text)


def enter(browser: Browser, link: str, **options: Any) -> Page:
    """A browser of its own that has joined by a link and heard the shed."""
    page = browser.new_context(**options).new_page()
    page.goto(link)
    expect(page.get_by_role("navigation")).to_be_visible()
    expect(page.get_by_role("banner")).to_contain_text("Shed heard")
    return page


def keep_all(page: Page) -> None:
    """Wait until the device keeps every screen, so that the shed may go away."""
    page.evaluate(ALL_IS_KEPT)


def go(page: Page, route: str) -> None:
    """Open a screen of the running app by its address."""
    page.evaluate(GO, route)


def title(page: Page) -> Locator:
    return page.get_by_role("heading", level=1)


def part(page: Page, heading: str) -> Locator:
    """The part of a screen under a heading."""
    return page.get_by_role("region", name=heading, exact=True)


def expect_waiting(page: Page, count: int) -> None:
    expect(page.get_by_role("banner")).to_contain_text(re.compile(rf"\b{count} waiting"))


def expect_told(page: Page, text: str) -> None:
    """What the phone says of the entry just written."""
    expect(page.locator(".notices")).to_contain_text(text)


def log_at(page: Page, origin: str) -> list[dict[str, Any]]:
    """The shed's whole log, as its API gives it to the device of a page."""
    asked = page.context.request
    garden = asked.get(f"{origin}/api/session").json()["garden"]["id"]
    entries: list[dict[str, Any]] = []
    while True:
        after = len(entries)
        page_of_log = asked.get(f"{origin}/api/gardens/{garden}/entries?after={after}&limit=1000")
        answer = page_of_log.json()
        entries += answer["entries"]
        if answer["cursor"] == answer["head"]:
            return entries
