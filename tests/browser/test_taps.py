"""The everyday entry takes at most three taps from a cold start, and can be taken back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from tests.browser.demo import DemoShed
from tests.browser.screens import (
    PHONE,
    Thumb,
    enter,
    expect_told,
    expect_waiting,
    log_at,
    part,
    title,
)

MOST_TAPS = 3
UNDO_S = 10
GATE_PEPPERS = "early short green (pepper)"


@pytest.fixture(scope="module")
def pocket(browser: Browser, demo_shed: DemoShed) -> Iterator[BrowserContext]:
    """The storage of a phone that knows the demo garden; no page is open in it."""
    page = enter(browser, demo_shed.lead_link(), **PHONE)
    context = page.context
    page.close()
    yield context
    context.close()


@pytest.fixture
def thumb(pocket: BrowserContext, demo_shed: DemoShed) -> Iterator[Thumb]:
    """On the first screen of an app that has just been started."""
    page = pocket.new_page()
    page.clock.install()
    page.goto(f"{demo_shed.origin}/")
    expect(title(page)).to_have_text("Round")
    expect_waiting(page, 0)
    yield Thumb(page)
    page.close()


def test_water_this_bed_takes_three_taps_at_most(thumb: Thumb, demo_shed: DemoShed) -> None:
    again = stop(thumb.page, "Gate bed").get_by_role("button", name=re.compile(r"^Water [\d.]+ L"))
    litres = again.inner_text().split()[1]
    thumb.tap(again)
    expect_told(thumb.page, f"Watered: Gate bed, {litres} L, Drip")
    assert thumb.taps <= MOST_TAPS
    entry = newest(thumb.page, demo_shed)
    assert (entry["kind"], entry["details"]["volume_l"]) == ("water", float(litres))
    assert entry["subjects"] == {"bed": demo_shed.bed("Gate bed")}


def test_feed_as_last_time_takes_three_taps_at_most(thumb: Thumb, demo_shed: DemoShed) -> None:
    thumb.tap(stop(thumb.page, "Back bed").get_by_role("link", name="brown-edged leaf (lettuce)"))
    again = part(thumb.page, "Plants").get_by_role("button", name=re.compile("^Feed: "))
    told = again.first.inner_text().removeprefix("Feed: ")
    thumb.tap(again.first)
    expect_told(thumb.page, f"Fed: brown-edged leaf (lettuce), {told}")
    assert thumb.taps <= MOST_TAPS
    entry = newest(thumb.page, demo_shed)
    lettuce = demo_shed.planting("brown-edged leaf")
    assert (entry["kind"], entry["subjects"]["planting"]) == ("feed", lettuce)
    assert entry["details"]["product"] in told


def test_feed_from_the_form_takes_what_was_given_lately(thumb: Thumb, demo_shed: DemoShed) -> None:
    thumb.page.goto(f"{demo_shed.origin}/#/record/feed?bed={demo_shed.bed('Herb box')}")
    thumb.tap(thumb.page.get_by_role("button", name=re.compile("^As before: ")).first)
    thumb.button("Write it down")
    expect_told(thumb.page, "Fed: Herb box, ")
    assert newest(thumb.page, demo_shed)["details"]["product"]


def test_found_on_this_plant_takes_three_taps_at_most(thumb: Thumb, demo_shed: DemoShed) -> None:
    thumb.tap(stop(thumb.page, "Wall bed").get_by_role("link", name="long sauce (tomato)"))
    thumb.tap(thumb.page.get_by_role("checkbox", name="Plant 2, row 1"))
    few = thumb.page.get_by_role("button", name=re.compile("^Few: ")).first
    organism = (few.get_attribute("aria-label") or "").removeprefix("Few: ")
    thumb.tap(few)
    expect_told(thumb.page, f"Scouted: long sauce (tomato), plant 2, {organism}, Few")
    assert thumb.taps <= MOST_TAPS
    entry = newest(thumb.page, demo_shed)
    assert (entry["kind"], entry["details"]["grade"]) == ("scout", "few")
    assert entry["subjects"]["plants"] == [2]


def test_rain_takes_three_taps_at_most(thumb: Thumb, demo_shed: DemoShed) -> None:
    amount = part(thumb.page, "Rain").get_by_role("button").first
    told = amount.inner_text()
    thumb.tap(amount)
    expect_told(thumb.page, f"Measured rain: {told}")
    assert thumb.taps <= MOST_TAPS
    entry = newest(thumb.page, demo_shed)
    assert (entry["kind"], entry["subjects"]) == ("rain", {})
    assert entry["details"]["depth_mm"] == float(told.split()[0])


def test_another_amount_of_rain_takes_three_taps_when_it_is_near_the_last(
    thumb: Thumb, demo_shed: DemoShed
) -> None:
    thumb.link("Rain …")
    again = thumb.page.get_by_role("button", name=re.compile("^As before: ")).first
    thumb.tap(again)
    thumb.button("Write it down")
    expect_told(thumb.page, "Measured rain")
    assert thumb.taps <= MOST_TAPS
    assert newest(thumb.page, demo_shed)["kind"] == "rain"


def test_picked_from_this_plant_takes_three_taps_at_most(thumb: Thumb, demo_shed: DemoShed) -> None:
    thumb.tap(stop(thumb.page, "Wall bed").get_by_role("link", name="long sauce (tomato)"))
    thumb.tap(thumb.page.get_by_role("checkbox", name="Plant 3, row 1"))
    thumb.button("Pick 4")
    expect_told(thumb.page, "Picked: long sauce (tomato), plant 3")
    assert thumb.taps <= MOST_TAPS
    entry = newest(thumb.page, demo_shed)
    assert (entry["kind"], entry["details"]["count"]) == ("pick", 4)
    assert entry["subjects"]["planting"] == demo_shed.planting("long sauce")
    assert entry["subjects"]["plants"] == [3]


def test_due_item_on_the_round_takes_one_tap_for_all_its_plants(
    thumb: Thumb, demo_shed: DemoShed
) -> None:
    peppers = demo_shed.planting("blocky yellow")
    due = work(thumb.page, "South box", "Side-dress with nitrogen")
    expect(due).to_contain_text("plants 10–18")
    thumb.tap(due.get_by_role("button"))
    expect_told(thumb.page, "Fed: blocky yellow (pepper), plants 10–18")
    assert thumb.taps == 1
    expect(due).to_have_count(0)
    entry = newest(thumb.page, demo_shed)
    assert entry["kind"] == "feed"
    assert entry["subjects"]["planting"] == peppers
    assert entry["subjects"]["plants"] == list(range(10, 19))
    assert entry["answers"] == f"side_dress/planting:{peppers}/1"


def test_undo_within_ten_seconds_brings_back_what_was_due(
    thumb: Thumb, demo_shed: DemoShed
) -> None:
    due = work(thumb.page, "Gate bed", "Side-dress with nitrogen")
    before_ms = thumb.page.evaluate("Date.now()")
    thumb.tap(due.get_by_role("button"))
    expect_told(thumb.page, f"Fed: {GATE_PEPPERS}")
    expect(due).to_have_count(0)
    thumb.page.clock.pause_at(before_ms / 1000 + UNDO_S)
    thumb.button("Undo")
    expect_told(thumb.page, "Took back")
    thumb.page.clock.resume()
    expect(due).to_have_count(1)
    assert thumb.taps == 2
    feed, void = log_after_sync(thumb.page, demo_shed)[-2:]
    assert (feed["kind"], void["kind"]) == ("feed", "void")
    assert void["details"]["entry"] == feed["id"]


def stop(page: Page, bed: str) -> Locator:
    """A bed's stop on the round."""
    heading = page.get_by_role("heading", name=bed, exact=True)
    return page.get_by_role("main").locator("ol > li").filter(has=heading)


def work(page: Page, bed: str, what: str) -> Locator:
    """A piece of work at a stop."""
    return stop(page, bed).locator("li").filter(has_text=what)


def newest(page: Page, shed: DemoShed) -> dict[str, Any]:
    """The entry that the shed got last, once nothing waits."""
    return log_after_sync(page, shed)[-1]


def log_after_sync(page: Page, shed: DemoShed) -> list[dict[str, Any]]:
    expect_waiting(page, 0)
    return log_at(page, shed.origin)
