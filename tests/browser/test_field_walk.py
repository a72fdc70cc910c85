"""A season's work in the bed with the shed's process ended, and what the shed has of it later."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.phone import Phone
from tests.browser.screens import (
    Thumb,
    expect_told,
    expect_waiting,
    go,
    keep_all,
    log_at,
    part,
    title,
)
from tests.browser.shed import Shed

RETRY_AT_THE_LATEST = "05:00"
# What the walk writes down, in its order.
WRITTEN = [
    "bed", "planting", "transplant", "water", "feed", "scout", "treat", "pick",
    "correct", "water", "void",
]  # fmt: skip


def test_walk_with_the_shed_stopped_is_written_and_goes_over_when_it_is_back(
    shed: Shed, phone: Phone
) -> None:
    first = phone.open(shed.lead_link())
    expect(title(first)).to_have_text("A new book")
    keep_all(first)
    shed.kill()
    phone.close()

    page = cold_start(phone, shed)
    thumb = Thumb(page)
    make_bed(thumb)
    make_planting(thumb)
    plant_out(thumb)
    water_the_bed(thumb)
    feed_a_row(thumb)
    scout_two_plants(thumb)
    treat(thumb)
    pick_too_soon(thumb)
    correct_the_water(thumb)
    water_and_undo(thumb)
    expect_waiting(page, len(WRITTEN))
    read_the_log(page)

    shed.start()
    page.clock.fast_forward(RETRY_AT_THE_LATEST)
    expect_waiting(page, 0)
    check_log(page, shed)


def cold_start(phone: Phone, shed: Shed) -> Page:
    """Open the app in a browser that was not running, while nothing answers at its address."""
    page = phone.context.new_page()
    page.clock.install()
    page.goto(f"{shed.origin}/")
    expect(title(page)).to_have_text("A new book")
    expect_waiting(page, 0)
    return page


def make_bed(thumb: Thumb) -> None:
    thumb.link("Make a bed")
    thumb.fill("Name of the bed", "Long bed")
    thumb.fill("Length", "4.8")
    thumb.fill("Width", "1.2")
    thumb.button("Make the bed")
    expect(thumb.page.get_by_text("So far: Long bed")).to_be_visible()
    expect_told(thumb.page, "Wrote down a bed")
    expect_waiting(thumb.page, 1)


def make_planting(thumb: Thumb) -> None:
    page = thumb.page
    thumb.link("Round")
    thumb.link("New planting")
    page.get_by_role("radio", name="Long bed").check()
    page.get_by_label("Crop").select_option(label="pepper")
    thumb.fill("Variety", "long mild red")
    thumb.fill("Spacing in the row", "0.4")
    thumb.fill("Spacing between rows", "0.6")
    expect(part(page, "What fits")).to_contain_text("24 plants fit: 2 rows of 12.")
    thumb.button("Take 24 plants")
    thumb.button("Make the planting")
    expect(title(page)).to_have_text("long mild red (pepper)")
    expect(page.get_by_role("main")).to_contain_text("24 plants, not set out yet")
    expect_waiting(page, 2)


def plant_out(thumb: Thumb) -> None:
    thumb.link("Plant out")
    thumb.button("Write it down")
    expect_told(thumb.page, "Planted out")
    expect(thumb.page.get_by_role("main")).to_contain_text("24 plants, here since")
    expect(thumb.page.get_by_role("checkbox", name="Plant 24, row 2")).to_be_visible()
    expect_waiting(thumb.page, 3)


def water_the_bed(thumb: Thumb) -> None:
    thumb.link("Long bed")
    thumb.button("20 L: Water Long bed")
    expect_told(thumb.page, "Watered: Long bed, 20 L")
    expect_waiting(thumb.page, 4)


def feed_a_row(thumb: Thumb) -> None:
    thumb.button("Row 1")
    expect(thumb.page.get_by_text("long mild red (pepper), plants 1–12")).to_be_visible()
    in_chosen(thumb, "Feed")
    thumb.fill("Product", "garden feed")
    thumb.fill("Amount by weight", "300")
    thumb.button("Write it down")
    expect_told(thumb.page, "Fed: long mild red (pepper), plants 1–12, 300 g, garden feed")
    expect_waiting(thumb.page, 5)


def scout_two_plants(thumb: Thumb) -> None:
    for plant in ("Plant 3, row 1", "Plant 17, row 2"):
        thumb.tap(thumb.page.get_by_role("checkbox", name=plant))
    in_chosen(thumb, "Scout")
    pests = thumb.page.get_by_role("combobox", name=re.compile("^Pest or disease"))
    pests.select_option(label="Aphids")
    thumb.choice("Few")
    thumb.button("Write it down")
    expect_told(thumb.page, "Scouted: long mild red (pepper), plants 3, 17")
    expect_waiting(thumb.page, 6)


def treat(thumb: Thumb) -> None:
    page = thumb.page
    thumb.tap(part(page, "Write down").get_by_role("link", name="Treat", exact=True))
    thumb.choice("Product from a shop")
    thumb.fill("Product", "leaf-spot wash")
    thumb.fill("Days to harvest, from the label", "3")
    thumb.fill("Hours to re-entry, from the label", "4")
    thumb.button("Write it down")
    expect_told(page, "Treated")
    expect(page.get_by_role("main")).to_contain_text("Picking: not before")
    expect(page.get_by_role("main")).to_contain_text("Stay out until")
    expect_waiting(page, 7)


def pick_too_soon(thumb: Thumb) -> None:
    page = thumb.page
    thumb.tap(part(page, "Write down").get_by_role("link", name="Pick", exact=True))
    thumb.fill("Fruits", "4")
    thumb.button("Write it down")
    expect_told(page, "Picked")
    expect(part(page, "Also here")).to_contain_text("before the wait ended")
    expect_waiting(page, 8)


def correct_the_water(thumb: Thumb) -> None:
    thumb.link("Log")
    thumb.tap(thumb.page.get_by_role("link", name="Watered 20 L"))
    thumb.link("Correct")
    thumb.fill("Water", "12")
    thumb.button("Write the correction")
    expect(title(thumb.page)).to_have_text("Watered")
    expect(thumb.page.get_by_role("main")).to_contain_text("12 L")
    expect_waiting(thumb.page, 9)


def water_and_undo(thumb: Thumb) -> None:
    thumb.link("Round")
    thumb.button("Water 12 L, Long bed")
    expect_told(thumb.page, "Watered: Long bed, 12 L")
    expect_waiting(thumb.page, 10)
    thumb.button("Undo")
    expect_told(thumb.page, "Took back")


def in_chosen(thumb: Thumb, verb: str) -> None:
    """One of the links that stand below the plants that were chosen."""
    chosen = thumb.page.locator(".chosen")
    thumb.tap(chosen.get_by_role("link", name=verb, exact=True))


def read_the_log(page: Page) -> None:
    """Once in the log: the water as corrected, and none that was taken back."""
    go(page, "#/log")
    told = page.get_by_role("main").get_by_role("link")
    expect(told.filter(has_text="Watered")).to_have_text(["Watered 12 L"])
    expect(page.get_by_text("waits to go over")).to_have_count(6)


def check_log(page: Page, shed: Shed) -> None:
    entries = log_at(page, shed.origin)
    assert [entry["kind"] for entry in entries] == WRITTEN
    assert [entry["seq"] for entry in entries] == list(range(1, len(WRITTEN) + 1))
    assert [entry["number"] for entry in entries] == list(range(1, len(WRITTEN) + 1))
    assert len({entry["notebook"] for entry in entries}) == 1
    assert len({entry["id"] for entry in entries}) == len(WRITTEN)
    bed, planting, _, water, feed, scout, *_ = entries
    assert planting["details"]["plants"] == 24
    assert planting["subjects"]["bed"] == water["subjects"]["bed"] == bed["id"]
    assert "planting" not in water["subjects"]
    assert feed["subjects"]["plants"] == list(range(1, 13))
    assert scout["subjects"]["plants"] == [3, 17]
    correct, slip, void = entries[8:]
    assert correct["details"]["entry"] == water["id"]
    assert correct["details"]["restated"]["volume_l"] == 12
    assert void["details"]["entry"] == slip["id"]
