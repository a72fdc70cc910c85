"""The browser is killed right after each tap of a run: each that was told is there, once."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page, expect

from tests.browser import test_field_walk as walk
from tests.browser.phone import Phone
from tests.browser.screens import Thumb, expect_told, expect_waiting, go, keep_all, title
from tests.browser.shed import Shed
from tests.browser.soundness import acknowledged_on, assert_sound


def note_rain(thumb: Thumb) -> None:
    go(thumb.page, "#/record/rain")
    thumb.page.locator("#field-depth_mm").fill("7")
    thumb.button("Write it down")
    expect_told(thumb.page, "7 mm")


def take_back_by_its_own_screen(thumb: Thumb) -> None:
    go(thumb.page, "#/log")
    thumb.tap(thumb.page.get_by_role("link", name="7 mm"))
    thumb.button("Take back")
    expect_told(thumb.page, "Took back")


STEPS: list[tuple[Callable[[Thumb], None], list[str]]] = [
    (walk.make_bed, ["bed"]),
    (walk.make_planting, ["planting"]),
    (walk.plant_out, ["transplant"]),
    (walk.water_the_bed, ["water"]),
    (walk.feed_a_row, ["feed"]),
    (walk.scout_two_plants, ["scout"]),
    (walk.treat, ["treat"]),
    (walk.pick_too_soon, ["pick"]),
    (walk.correct_the_water, ["correct"]),
    (walk.water_and_undo, ["water", "void"]),
    (note_rain, ["rain"]),
    (take_back_by_its_own_screen, ["void"]),
]
WATER = "20 L: Water Long bed"
TAP = "(name) => document.querySelector(`button[aria-label='${name}']`).click()"


def test_browser_killed_after_each_of_twelve_taps_has_each_of_them_once(
    shed: Shed, phone: Phone
) -> None:
    page = start(phone, shed)
    kinds: list[str] = []
    for step, written in STEPS:
        step(Thumb(page))
        kinds += written
        page = killed_and_opened(phone, page)
        expect_waiting(page, len(kinds))

    hands = phone.garden()
    ids = acknowledged_on(hands)
    assert len(ids) == len(kinds)
    shed.start()
    log = assert_sound(shed, [hands], ids)
    assert [entry["kind"] for entry in log] == kinds


def test_browser_killed_in_the_very_moment_of_a_tap_has_it_once_or_not_at_all(
    shed: Shed, phone: Phone
) -> None:
    page = start(phone, shed)
    walk.make_bed(Thumb(page))
    go(page, "#/")
    Thumb(page).link("Long bed")
    taps = 5
    for _ in range(taps):
        expect(page.get_by_role("button", name=WATER)).to_be_visible()
        page.evaluate(TAP, WATER)
        page = killed_and_opened(phone, page)

    hands = phone.garden()
    ids = acknowledged_on(hands)
    assert 1 <= len(ids) <= 1 + taps
    shed.start()
    assert_sound(shed, [hands], ids)


def start(phone: Phone, shed: Shed) -> Page:
    """A paired phone whose app opens without the shed, and a shed that has gone."""
    first = phone.open(shed.lead_link())
    expect(title(first)).to_have_text("A new book")
    keep_all(first)
    shed.kill()
    # A browser writes its cookies down every half minute, and when it ends in peace.
    phone.close()
    page = phone.open()
    expect(title(page)).to_have_text("A new book")
    return page


def killed_and_opened(phone: Phone, page: Page) -> Page:
    """The same screen in a browser that was started anew."""
    address = page.url
    phone.kill()
    again = phone.open(address)
    expect(again.get_by_role("navigation")).to_be_visible()
    return again
