"""The same promises, seen from the screens and kept through real taps."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.shed import Shed


def test_tap_when_the_browser_is_killed_right_after_is_in_the_log(shed: Shed, phone: Phone) -> None:
    page = phone.open(shed.lead_link())
    expect(page.get_by_role("navigation")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    shed.kill()
    page.goto(f"{shed.origin}/#/record/rain")
    page.locator("#field-depth_mm").fill("12")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".notice")).to_be_visible()
    phone.kill()

    again = phone.open("/#/log")
    expect(again.get_by_text("12 mm").first).to_be_visible()
    expect(again.get_by_text("1 waiting").first).to_be_visible()


def test_entry_set_aside_is_mended_from_the_attention_screen(shed: Shed, phone: Phone) -> None:
    bare = phone.garden(shed.lead_link())
    bed = make_bed(bare)
    record(bare, "water", {"volume_l": -5}, {"bed": bed})
    sync(bare)
    bare.close()

    page = phone.open("/#/attention")
    expect(page.get_by_text("Set aside: kept at the shed")).to_be_visible()
    page.get_by_role("link", name="Mend").tap()
    page.locator("#field-volume_l").fill("5")
    page.get_by_role("button", name="Write it down").tap()
    page.goto(f"{shed.origin}/#/attention")
    expect(page.get_by_text("Mended by a later entry")).to_be_visible()
    page.get_by_role("button", name="Put away").tap()
    expect(page.get_by_text("Nothing needs attention")).to_be_visible()
