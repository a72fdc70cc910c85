"""The first hour in an empty garden, and the example to play in."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.measures import CUT_OFF
from tests.browser.phone import Phone
from tests.browser.screens import PHONE, Thumb, expect_told, expect_waiting, keep_all, log_at, title
from tests.browser.shed import Shed

NewPage = Callable[..., Page]


@pytest.fixture
def new_page(browser: Browser) -> Iterator[NewPage]:
    """Makes pages of browsers that belong to nobody yet, each with its own language and clock."""
    contexts: list[BrowserContext] = []

    def make(**options: Any) -> Page:
        contexts.append(browser.new_context(**options))
        return contexts[-1].new_page()

    yield make
    for context in contexts:
        context.close()


def begun(page: Page, done: int, of: int = 3) -> None:
    expect(page.get_by_role("main")).to_contain_text(f"{done} of {of} done.")


def test_three_steps_offline_make_a_garden_and_the_greeting_goes(shed: Shed, phone: Phone) -> None:
    page = phone.open(shed.lead_link())
    expect(title(page)).to_have_text("A new book")
    keep_all(page)
    shed.kill()
    thumb = Thumb(page)
    begun(page, 0)

    thumb.link("Make a bed")
    expect(page.get_by_label("Name of the bed")).to_have_value("Bed 1")
    thumb.button("Make the bed")
    thumb.button("Another like Bed 1")
    expect(page.get_by_text("So far: Bed 1, Bed 2")).to_be_visible()
    begun(page, 1)

    thumb.link("First steps")
    thumb.button("Leave it out: Where you grow")
    expect(page.get_by_text("Left out")).to_be_visible()

    thumb.link("Make a planting")
    expect(page.get_by_text("Bed 2", exact=True)).to_be_visible()
    thumb.tap(page.get_by_role("button", name="Take "))
    thumb.button("Make the planting")
    thumb.button("Set out today")

    expect(title(page)).to_have_text("Round")
    expect(page.get_by_text("First steps")).to_have_count(0)
    expect_waiting(page, 4)
    shed.start()
    page.clock.install()
    page.evaluate("dispatchEvent(new Event('online'))")
    expect_waiting(page, 0)
    first, second, planting, out = log_at(page, shed.origin)
    assert first["details"] == {"name": "Bed 1", "type": "ground", "length_m": 3, "width_m": 1.2}
    assert second["details"] == first["details"] | {"name": "Bed 2"}
    assert planting["subjects"]["bed"] == out["subjects"]["bed"] == second["id"]
    assert (planting["details"]["crop"], out["kind"]) == ("pepper", "transplant")


def test_steps_left_open_stay_at_hand_on_the_round_and_come_back_from_the_garden(
    shed: Shed, phone: Phone
) -> None:
    page = phone.open(shed.lead_link())
    thumb = Thumb(page)
    thumb.link("Make a bed")
    thumb.button("Make the bed")
    thumb.link("Round")
    expect(title(page)).to_have_text("Round")
    thumb.link("Go on")
    begun(page, 1)
    for step in ("Where you grow", "What stands in it"):
        thumb.button(f"Leave it out: {step}")
    thumb.link("Round")
    expect(page.get_by_role("link", name="Go on")).to_have_count(0)

    page.goto(f"{shed.origin}/#/garden")
    thumb.link("First steps")
    thumb.link("Set the place")
    thumb.fill("Latitude", "39.7")
    thumb.button("Save")
    expect(page.locator(".field.is-wrong")).to_contain_text("Longitude")
    thumb.fill("Longitude", "-105")
    thumb.button("Save")
    expect(title(page)).to_have_text("Round")
    page.goto(f"{shed.origin}/#/start")
    begun(page, 2)


def test_helper_is_greeted_without_the_step_that_is_the_leads(shed: Shed, phone: Phone) -> None:
    page = phone.open(shed.helper_link())
    expect(title(page)).to_have_text("A new book")
    begun(page, 0, of=2)
    expect(page.get_by_role("link", name="Set the place")).to_have_count(0)


@pytest.mark.parametrize(
    ("locale", "zone", "unit", "language"),
    [
        ("en-US", "America/Denver", "ft", "en"),
        ("en-US", "Europe/Madrid", "m", "en"),
        ("es-MX", "America/Mexico_City", "m", "es"),
    ],
)
def test_first_start_has_the_units_and_language_that_the_browser_lets_expect(
    shed: Shed, new_page: NewPage, locale: str, zone: str, unit: str, language: str
) -> None:
    page = new_page(locale=locale, timezone_id=zone, **PHONE)
    page.goto(shed.lead_link())
    expect(page.get_by_role("main").locator("ol > li")).to_have_count(3)
    page.goto(f"{shed.origin}/#/start/beds")
    expect(page.locator("html")).to_have_attribute("lang", language)
    expect(page.locator(".stepper-unit").first).to_have_text(unit)


def test_language_can_be_chosen_before_joining(shed: Shed, new_page: NewPage) -> None:
    page = new_page(**PHONE)
    page.goto(f"{shed.origin}/")
    expect(title(page)).to_have_text("Join a garden")
    page.get_by_role("radio", name="Español").check()
    expect(page.locator("html")).to_have_attribute("lang", "es")
    expect(page.get_by_role("button", name="Entrar al huerto")).to_be_visible()
    assert not page.evaluate(CUT_OFF)


def test_example_is_played_with_offline_sends_nothing_and_is_thrown_away(
    shed: Shed, phone: Phone
) -> None:
    page = phone.open(shed.lead_link())
    thumb = Thumb(page)
    expect(title(page)).to_have_text("A new book")
    keep_all(page)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    thumb.link("Open the example")
    expect(title(page)).to_have_text("Round")
    expect(page.get_by_role("note")).to_contain_text("Example: nothing here counts.")
    api = [url for url in asked if "/api/" in url]
    assert [url.split("?")[0] for url in api] == [f"{shed.origin}/api/example"]

    shed.kill()
    page.reload()
    expect(page.get_by_role("link", name="Gate bed", exact=True)).to_be_visible()
    asked.clear()
    thumb.tap(page.get_by_role("button", name="Rain").first)
    expect_told(page, "Measured rain")
    page.clock.install()
    page.clock.fast_forward("05:00")
    assert not [url for url in asked if "/api/" in url]

    thumb.button("Throw it away")
    expect(title(page)).to_have_text("A new book")
    expect(page.get_by_role("note")).to_have_count(0)
    expect_waiting(page, 0)
    kept = page.evaluate("indexedDB.databases().then((all) => all.map((one) => one.name))")
    assert kept == ["shedbook"]
    shed.start()
    assert log_at(page, shed.origin) == []


def test_example_without_the_shed_says_where_it_comes_from(shed: Shed, phone: Phone) -> None:
    page = phone.open(shed.lead_link())
    expect(title(page)).to_have_text("A new book")
    keep_all(page)
    shed.kill()
    page.goto(f"{shed.origin}/?example#/")
    expect(title(page)).to_have_text("An example garden")
    expect(page.get_by_role("main")).to_contain_text("out of reach")
    page.get_by_role("link", name="Back to my garden").first.click()
    expect(title(page)).to_have_text("A new book")
