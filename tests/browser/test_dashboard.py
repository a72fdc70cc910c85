"""The shed's dashboard on the demo season, at the size of a desk and of a phone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.demo import DemoShed
from tests.browser.screens import DESK, PHONE, enter, expect_told, go, part, title

LATE = ["Side-dress with nitrogen", "Side-dress with nitrogen"]
A_DAY = r"\d+ [A-Z][a-z]{2} \d{4}"


@pytest.fixture(scope="module", params=[DESK, PHONE], ids=["desk", "phone"])
def window(browser: Browser, demo_shed: DemoShed, request: pytest.FixtureRequest) -> Iterator[Page]:
    page = enter(browser, demo_shed.lead_link(), **request.param)
    yield page
    page.context.close()


@pytest.fixture
def shed_page(window: Page) -> Page:
    go(window, "#/shed")
    expect(title(window)).to_have_text("At the shed")
    return window


def test_dashboard_shows_what_is_late_first_with_how_late_and_why(shed_page: Page) -> None:
    headings = shed_page.get_by_role("main").get_by_role("heading", level=2)
    expect(headings.first).to_have_text("Late")
    late = part(shed_page, "Late").get_by_role("listitem")
    dressed = late.filter(has_text="Side-dress")
    expect(dressed).to_contain_text(LATE)
    gate = late.filter(has_text="Gate bed")
    expect(gate).to_contain_text("14 days late")
    expect(gate).to_contain_text(re.compile(rf"Was due on {A_DAY}, 14 days ago"))
    urgencies = late.locator(".work-title, a").all_inner_texts()
    assert urgencies.index("Side-dress with nitrogen") < urgencies.index("Thin seedlings")


def test_dashboard_says_as_of_when_and_which_device_is_silent(shed_page: Page) -> None:
    line = shed_page.get_by_role("main").locator(".title")
    expect(line).to_contain_text(re.compile(r"As known at \d\d:\d\d\."))
    expect(line).to_contain_text(re.compile("heard for a day.*1 device|1 device.*heard for a day"))


def test_finding_opens_to_arithmetic_entries_source_and_caution(shed_page: Page) -> None:
    late = part(shed_page, "Late").get_by_role("listitem").filter(has_text="South box")
    late.get_by_role("link", name="Side-dress with nitrogen").click()
    expect(title(shed_page)).to_have_text("Side-dress with nitrogen")
    counted = part(shed_page, "How it was counted")
    expect(counted).to_contain_text(re.compile(rf"Transplanted on {A_DAY}"))
    expect(counted).to_contain_text(re.compile(rf"28 days later is {A_DAY}"))
    basis = part(shed_page, "Where the rule comes from")
    expect(basis).to_contain_text("common practice, no source")
    expect(basis).to_contain_text("Follow the bag.")
    entries = shed_page.get_by_role("main").locator("a[href^='#/entry/']")
    expect(entries.first).to_contain_text("Planted out")
    entries.first.click()
    expect(title(shed_page)).to_have_text("Planted out")


def test_dashboard_draws_how_evenly_the_water_came_and_tells_it_as_a_table(
    shed_page: Page,
) -> None:
    wall = part(shed_page, "How evenly the water came").locator(".evenness", has_text="Wall bed")
    expect(wall).to_contain_text("Uneven")
    expect(wall.get_by_role("img")).to_be_visible()
    wall.get_by_text("The same as a table").click()
    table = wall.get_by_role("table")
    expect(table.first).to_be_visible()
    rows = table.first.get_by_role("row")
    # Each watering of the table is a mark of the chart.
    drawing = wall.get_by_role("img")
    marks = drawing.locator(".chart-stroke, .chart-open, .chart-rain")
    assert rows.count() - 1 == marks.count() > 3
    expect(rows.last).to_contain_text(re.compile(r"Watered .* L"))
    wall.get_by_role("link", name="Why?").click()
    expect(title(shed_page)).to_have_text("Even watering")
    expect(part(shed_page, "How it was counted")).to_contain_text("on average")


def test_rotation_table_marks_the_conflict_of_the_plan(shed_page: Page) -> None:
    rotation = part(shed_page, "Beds by years")
    row = rotation.get_by_role("row").filter(
        has=shed_page.get_by_role("rowheader", name="Back bed")
    )
    expect(row).to_contain_text("big ribbed red (tomato)")
    planned = row.locator(".is-against")
    expect(planned).to_contain_text("short red sweet (pepper)")
    expect(planned).to_contain_text("planned")
    planned.get_by_role("link", name="Too soon: why?").click()
    expect(title(shed_page)).to_have_text("Rest from one family")
    counted = part(shed_page, "How it was counted")
    expect(counted).to_contain_text(re.compile(rf"3 years of rest end on {A_DAY}"))


def test_dashboard_names_what_is_withheld_and_until_when(shed_page: Page) -> None:
    withheld = part(shed_page, "Not to be done yet").get_by_role("listitem")
    until = re.compile(rf"Wait until {A_DAY}, \d\d:\d\d")
    expect(withheld.filter(has_text="Gate bed")).to_contain_text(until)
    expect(withheld.filter(has_text="North box").first).to_contain_text(until)
    unknown = withheld.filter(has_text="Stream bed").first
    expect(unknown).to_contain_text(re.compile(r"How long to wait .* is not known"))


def test_dashboard_adds_up_what_was_picked_from_each_planting(shed_page: Page) -> None:
    row = shed_page.get_by_role("table").get_by_role("row")
    peppers = row.filter(has=shed_page.get_by_role("rowheader", name="early short green (pepper)"))
    expect(peppers.first).to_contain_text(re.compile(r"\d+\.\d+ kg"))
    rotted = row.filter(has=shed_page.get_by_role("rowheader", name="long sauce (tomato)")).first
    expect(rotted.get_by_role("cell").nth(2)).to_have_text("14")


def test_walk_dragged_or_moved_by_buttons_orders_the_round(window: Page) -> None:
    go(window, "#/walk")
    before = walk_of(window)
    drag(window, grip(window, before[0]), grip(window, before[2]))
    dragged = [before[1], before[2], before[0], *before[3:]]
    assert walk_of(window) == dragged
    window.get_by_role("button", name=f"{before[0]}: earlier").click()
    moved = [before[1], before[0], *before[2:]]
    assert walk_of(window) == moved
    window.get_by_role("button", name="Walk in this order").click()
    expect_told(window, "Changed settings")
    expect(title(window)).to_have_text("Round")
    aside = part(window, "Last, on the way home").get_by_role("heading", level=2).all_inner_texts()
    # What has no bed yet stands after the beds that do.
    in_order = [bed for bed in moved if bed not in aside]
    expect(stop_names(window)).to_have_text([*in_order, "In no bed yet", *aside[1:]])


def test_round_takes_a_closed_bed_last_and_says_why(window: Page) -> None:
    go(window, "#/")
    stop = part(window, "Last, on the way home").locator(".stop", has_text="North box")
    expect(stop).to_contain_text(re.compile(rf"Wait until {A_DAY}, \d\d:\d\d"))
    stop.get_by_role("link", name="Why?").click()
    expect(title(window)).to_have_text("Hours to re-entry")


def stop_names(page: Page) -> Locator:
    return page.get_by_role("main").locator(".stop-head h2")


def walk_of(page: Page) -> list[str]:
    return page.locator(".walk-name").all_inner_texts()


def grip(page: Page, bed: str) -> Locator:
    return page.locator(".walk-stop", has_text=bed).locator(".walk-grip")


def drag(page: Page, from_: Locator, to: Locator) -> None:
    """With a finger where there is a touch screen, otherwise with the mouse."""
    to.scroll_into_view_if_needed()
    start, end = middle(from_), middle(to)
    if not page.evaluate("navigator.maxTouchPoints"):
        page.mouse.move(*start)
        page.mouse.down()
        page.mouse.move(*end, steps=4)
        page.mouse.up()
        return
    session = page.context.new_cdp_session(page)

    def touch(what: str, *points: tuple[float, float]) -> None:
        at: list[dict[str, Any]] = [{"x": x, "y": y} for x, y in points]
        session.send("Input.dispatchTouchEvent", {"type": what, "touchPoints": at})

    touch("touchStart", start)
    touch("touchMove", (start[0], (start[1] + end[1]) / 2))
    touch("touchMove", end)
    touch("touchEnd")
    session.detach()


def middle(what: Locator) -> tuple[float, float]:
    box = what.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
