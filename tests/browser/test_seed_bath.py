"""A hot bath for seed, from the tap that starts it to the entry that tells of it."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.phone import Phone
from tests.browser.shed import Shed

SHAKES = (
    "navigator.vibrate = (pattern) => { (globalThis.shakes ??= []).push(pattern); return true; }"
)


def open_bath(shed: Shed, phone: Phone) -> Page:
    """The bath's screen for peppers that are still seed, on a clock that the test moves."""
    bare = phone.garden(shed.lead_link())
    planting = bare.evaluate("async () => (await actions.makePlanting({ crop: 'pepper' })).id")
    bare.close()
    page = phone.context.new_page()
    page.clock.install()
    page.add_init_script(SHAKES)
    page.goto(f"{shed.origin}/#/planting/{planting}")
    page.get_by_role("link", name="Seed bath").tap()
    return page


def test_bath_that_runs_outlives_a_reload_and_shakes_at_its_end(shed: Shed, phone: Phone) -> None:
    page = open_bath(shed, phone)
    expect(page.get_by_text("common practice, no source")).to_be_visible()
    expect(page.get_by_text("Pennsylvania State University")).to_be_visible()
    page.get_by_role("button", name="50 °C for 25 minutes: start").first.tap()
    timer = page.get_by_role("timer")
    expect(timer).to_have_text(re.compile(r"^(25:00|24:5\d)$"))
    page.clock.run_for(10 * 60_000)
    expect(timer).to_have_text(re.compile(r"^(15:00|14:5\d)$"))
    page.reload()
    expect(timer).to_have_text(re.compile(r"^(15:00|14:5\d)$"))
    expect(page.get_by_role("button", name="Write the bath down")).to_have_count(0)
    page.clock.run_for(15 * 60_000)
    expect(timer).to_have_text("0:00")
    expect(page.get_by_role("status").filter(has_text="Time is up")).to_be_visible()
    assert len(page.evaluate("globalThis.shakes")) == 1


def test_bath_that_is_over_is_written_down_with_one_tap(shed: Shed, phone: Phone) -> None:
    page = open_bath(shed, phone)
    page.get_by_role("button", name="51.7 °C for 30 minutes: start").tap()
    page.clock.run_for(30 * 60_000)
    page.get_by_role("button", name="Write the bath down").tap()
    expect(page).to_have_url(re.compile("#/planting/"))
    expect(page.get_by_role("link", name=re.compile("Hot water, 51.7 °C, 30 min"))).to_be_visible()


def test_bath_that_is_stopped_leaves_no_entry(shed: Shed, phone: Phone) -> None:
    page = open_bath(shed, phone)
    page.get_by_role("button", name="50 °C for 25 minutes: start").first.tap()
    page.get_by_role("button", name="Stop").tap()
    expect(page.get_by_role("timer")).to_have_count(0)
    assert "until" not in page.url
    page.goto(f"{shed.origin}/#/log")
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.get_by_text("50 °C")).to_have_count(0)
