"""Takes the pictures: the demo garden in a real shed, and a browser for each language and size."""

import re
import shutil
import tempfile
from collections.abc import Iterable
from pathlib import Path

from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests import needs
from tests.browser.demo import DemoShed
from tests.browser.places import addresses
from tests.browser.screens import DESK, PHONE, enter, go
from tests.screens.sheet import write_sheet

OUT = Path(__file__).resolve().parents[2] / "build" / "screens"
SIZES = {"phone": PHONE, "desk": DESK}
# Metric units in English; of any other language its own code will do.
LOCALES = {"en": "en-GB"}
# Where the screen is wider than the window, a person must push it sideways.
IS_TOO_WIDE = "document.documentElement.scrollWidth > document.documentElement.clientWidth"
# On a picture of the whole page, what sticks to the window would lie across the middle.
NOTHING_STICKS = ".bar, .notices { position: static !important }"
SETTLED = """() => document.fonts.ready.then(() => new Promise((done) =>
  requestAnimationFrame(() => requestAnimationFrame(() => done()))))"""


def take(languages: Iterable[str], sizes: Iterable[str], look: str, only: str) -> Path:
    """Take them all anew; the address of the sheet that shows them."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        shed = DemoShed(Path(folder) / "data")
        shed.make_garden()
        shed.start()
        browser = playwright.chromium.launch(executable_path=needs.find_browser())
        try:
            known = _addresses(browser, shed)
            for language in languages:
                for size in sizes:
                    _take_set(browser, shed, known, OUT / language / size, look, only)
        finally:
            browser.close()
            shed.kill()
    return write_sheet(OUT)


def _addresses(browser: Browser, shed: DemoShed) -> dict[str, str]:
    """Of every screen, by its name; the photo that some of them show is sent to the shed."""
    page = enter(browser, shed.lead_link(), **PHONE, locale=LOCALES["en"])
    known = addresses(page, shed)
    expect(page.get_by_role("banner")).not_to_contain_text("photo")
    page.context.close()
    return known


def _take_set(
    browser: Browser, shed: DemoShed, known: dict[str, str], out: Path, look: str, only: str
) -> None:
    """All screens in one language and size; a look other than the light one has its own folder."""
    language, size = out.parts[-2:]
    if look != "light":
        out = out.with_name(f"{size}-{look}")
    if not only:
        shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True, exist_ok=True)
    scheme = "dark" if look == "dark" else "light"
    page = browser.new_context(
        **SIZES[size],
        locale=LOCALES.get(language, language),
        color_scheme=scheme,
        reduced_motion="reduce",
    ).new_page()
    _take(page, out, "before joining", shed.origin, only)
    page.goto(shed.lead_link())
    # Nothing is waited for by its words, which are another language's each time.
    expect(page.locator(".stop").first).to_be_visible()
    # From now on the code of every screen is at hand: one that is fetched first looks empty.
    go(page, "#/shed")
    expect(page.locator(".leaf-part").first).to_be_visible()
    if look == "sun":
        go(page, "#/phone")
        page.locator("#look-sun").check()
    for name, address in known.items():
        _take(page, out, name, address, only)
    page.context.close()


def _take(page: Page, out: Path, name: str, address: str, only: str) -> None:
    if only not in name:
        return
    if address.startswith("#"):
        go(page, address)
    else:
        page.goto(address)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    page.evaluate(SETTLED)
    if page.evaluate(IS_TOO_WIDE):
        print(f"wider than the window: {out.parent.name}/{out.name}: {name}", flush=True)
    file = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60]
    page.screenshot(path=out / f"{file}.png", full_page=True, style=NOTHING_STICKS)
