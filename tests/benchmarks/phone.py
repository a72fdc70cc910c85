"""The page on a slow phone: how soon a tap is durable, how soon the round is there.

Headless Chromium with the main thread slowed four times, and the joined client as people get it.
A garden of 12,000 entries is measured beside an empty one, on a phone that keeps what its rules
have found last and on one that does not yet, as on the first opening of a day; and a tap beside a
bare strict put into a database of the same form in the same page. The page is opened by the service
worker alone, with no network. What follows from a tap is timed in the client's own modules, since
nothing in the joined page can be asked for it.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from shedbook import places
from shedbook.records.people import invite
from tests import needs
from tests.benchmarks import phone_garden
from tests.benchmarks.connection import BenchShed, a_shed
from tests.benchmarks.phone_scripts import (
    ADD_BARE_BUTTON,
    COLD_START,
    FINDINGS_ARE_KEPT,
    RECKON,
    TAP_TO_DURABLE,
    WATCH,
)
from tests.benchmarks.phone_transfer import counted
from tests.benchmarks.reference import Row, median
from tests.browser.phone import OPEN_GARDEN
from tests.browser.screens import PHONE

SLOWED = 4
STARTS = 9
TAPS = 25
FRAME_MS = 16
FIRST_LOAD_BYTES = 200_000
PATIENCE_MS = 120_000
LINK_LIFETIME_S = 3600
# Each with the kind of its entry and what that must name.
RECKONED = {
    "a bed watered": ("water", "bed"),
    "one plant scouted": ("scout", "plants"),
    "a planting picked": ("pick", "planting"),
    "rain on the whole garden": ("rain", None),
}


class ModulesShed(BenchShed):
    """A further process over a shed's data, which serves the client's modules as written."""

    def environment(self) -> dict[str, str]:
        return super().environment() | {"SHEDBOOK_CLIENT": "sources"}


def measure() -> list[Row]:
    """One browser for all, so that what is compared has the same machine at the same time."""
    os.environ.pop("SHEDBOOK_CLIENT", None)
    if not places.bundle_is_made_of(places.digest_of(places.source_files())):
        raise SystemExit("Make the joined client first: python server/build_client.py")
    with sync_playwright() as playwright, a_shed() as full, a_shed() as empty:
        phone_garden.fill(full)
        browser = playwright.chromium.launch(executable_path=needs.find_browser())
        rows = [first_load(browser, empty)]
        with_log, without = joined(browser, full), joined(browser, empty)
        rows += cold_starts(with_log, full, without, empty)
        rows.append(taps(with_log, full))
        rows += reckoning(browser, full)
        browser.close()
    return rows


def first_load(browser: Browser, shed: BenchShed) -> Row:
    """A first visit until the page is shown and its worker keeps all that it needs."""
    with counted(shed.port) as passed:
        context = browser.new_context(**PHONE)
        page = context.new_page()
        page.goto(passed.origin)
        expect(page.get_by_role("heading").first).to_be_visible()
        page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
        context.close()
    return Row(
        "first load, all that the shed sends",
        f"{passed.bytes / 1000:.1f} kB",
        f"{FIRST_LOAD_BYTES / 1000:.0f} kB",
        passed.bytes / FIRST_LOAD_BYTES,
        "at most 1",
    )


def joined(browser: Browser, shed: BenchShed) -> BrowserContext:
    """A phone that has the garden's whole log and can open without a network."""
    context = browser.new_context(**PHONE)
    with shed.opened():
        code = invite(shed.garden, "lead", "Inés", LINK_LIFETIME_S).code
    page = context.new_page()
    page.goto(f"{shed.origin}/#/join/{code}")
    banner = page.get_by_role("banner")
    expect(banner).to_contain_text("Shed heard", timeout=PATIENCE_MS)
    page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    page.evaluate(FINDINGS_ARE_KEPT)
    page.close()
    return context


def cold_starts(
    with_log: BrowserContext, full: BenchShed, without: BrowserContext, empty: BenchShed
) -> list[Row]:
    """From asking for the page until the round is painted, in turns."""
    beds = phone_garden.BEDS
    starts = {
        "again": (with_log, full, beds, False),
        "first": (with_log, full, beds, True),
        "empty": (without, empty, 0, False),
    }
    times: dict[str, list[tuple[float, float]]] = {name: [] for name in starts}
    for _ in range(STARTS):
        for name, (context, shed, stops, is_first) in starts.items():
            with slow_page(context, shed, stops, is_first_of_day=is_first) as page:
                times[name].append(tuple(page.evaluate(COLD_START)))
    usable_ms, whole_ms = (
        {name: median(start[at] for start in found) for name, found in times.items()}
        for at in (0, 1)
    )
    reference_ms = usable_ms["empty"]
    timed = {
        "until its beds fill the screen": (usable_ms["again"], "at most 2"),
        f"until all {beds} beds are there": (whole_ms["again"], ""),
        "the first of a day, until the beds fill the screen": (usable_ms["first"], "at most 2"),
    }
    return [
        Row(
            f"cold start with {phone_garden.ENTRIES:,} entries, {name}",
            f"{taken_ms:.0f} ms",
            f"{reference_ms:.0f} ms with none",
            taken_ms / reference_ms,
            aim,
        )
        for name, (taken_ms, aim) in timed.items()
    ]


def taps(context: BrowserContext, shed: BenchShed) -> Row:
    """A bed watered as last time from the round, and a button that does no more than a bare put."""
    tapped_ms, bare_ms = [], []
    with slow_page(context, shed, phone_garden.BEDS) as page:
        page.evaluate(COLD_START)
        page.evaluate(ADD_BARE_BUTTON)
        again, bare = page.locator(".stop-quick button").first, page.locator("#bare")
        for _ in range(TAPS):
            for button, taken_ms in ((again, tapped_ms), (bare, bare_ms)):
                button.tap()
                taken_ms.append(page.evaluate(TAP_TO_DURABLE))
        expect(page.get_by_role("banner")).to_contain_text(f"{TAPS} waiting")
    tapped, bare_put = median(tapped_ms), median(bare_ms)
    return Row(
        "tap to durable",
        f"{tapped:.1f} ms",
        f"{bare_put:.1f} ms a bare put",
        tapped / bare_put,
        "at most 2",
    )


def reckoning(browser: Browser, shed: BenchShed) -> list[Row]:
    """What follows from one more entry, beside the time of a frame."""
    modules = ModulesShed(shed.data.parent, garden=shed.garden)
    try:
        modules.start()
        context = joined(browser, modules)
        page = context.new_page()
        page.route("**/main.js", lambda route: route.abort())
        slow_down(page)
        page.goto(modules.origin)
        page.evaluate(OPEN_GARDEN)
        rows = []
        for name, about in RECKONED.items():
            taken_ms = median(page.evaluate(RECKON, list(about)) for _ in range(TAPS))
            said = (f"{taken_ms:.1f} ms", f"{FRAME_MS} ms, a frame", taken_ms / FRAME_MS)
            rows.append(Row(f"reckoned anew after a tap: {name}", *said, "at most 1"))
        context.close()
    finally:
        modules.close()
    return rows


@contextmanager
def slow_page(
    context: BrowserContext, shed: BenchShed, stops: int, *, is_first_of_day: bool = False
) -> Iterator[Page]:
    """The app opened by its service worker, which is started for it, without a network."""
    page = context.new_page()
    told = f"stopsToShow: {stops}, isFirstOfDay: {str(is_first_of_day).lower()}"
    page.add_init_script(f"Object.assign(globalThis, {{{told}}}); ({WATCH})()")
    context.set_offline(True)
    slow_down(page)
    page.goto(shed.origin)
    yield page
    page.close()


def slow_down(page: Page) -> None:
    """As on a phone: by the devtools' protocol, which slows the page and not its workers."""
    session = page.context.new_cdp_session(page)
    session.send("ServiceWorker.enable")
    session.send("ServiceWorker.stopAllWorkers")
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
