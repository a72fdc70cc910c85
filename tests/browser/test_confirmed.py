"""What was written is confirmed to eye and hand, and one tap takes it back."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.demo import DemoShed
from tests.browser.screens import PHONE, Thumb, enter, expect_told, go, log_at

# Notes each buzz in place of making it.
BUZZES = (
    "navigator.vibrate = (pattern) => { (globalThis.buzzes ??= []).push(pattern); return true; }"
)


@pytest.fixture
def phone(browser: Browser, demo_shed: DemoShed) -> Iterator[Page]:
    page = enter(browser, demo_shed.lead_link(), service_workers="block", **PHONE)
    page.add_init_script(BUZZES)
    page.reload()
    expect(page.get_by_role("banner")).to_contain_text("Shed heard")
    yield page
    page.context.close()


def water(page: Page) -> None:
    page.get_by_role("button", name=re.compile(r"^Water [\d.]+ L.*, Gate bed$")).tap()
    expect_told(page, "Watered: Gate bed")


def buzzes(page: Page) -> list[list[int]]:
    felt: list[list[int]] = page.evaluate("globalThis.buzzes ?? []")
    return felt


def test_tap_that_writes_buzzes_once_shows_and_is_undone_by_one_tap(
    phone: Page, demo_shed: DemoShed
) -> None:
    thumb = Thumb(phone)
    water(phone)
    assert len(buzzes(phone)) == 1
    thumb.button("Undo")
    expect_told(phone, "Took back")
    assert thumb.taps == 1
    assert len(buzzes(phone)) == 2
    expect(phone.get_by_role("banner")).to_contain_text("0 waiting")
    written, void = log_at(phone, demo_shed.origin)[-2:]
    assert (written["kind"], void["details"]["entry"]) == ("water", written["id"])


def test_person_who_wants_no_buzz_feels_none(phone: Page) -> None:
    go(phone, "#/phone")
    phone.get_by_role("radio", name="No buzz").check()
    go(phone, "#/")
    water(phone)
    assert buzzes(phone) == []


def test_form_takes_all_plants_but_these(phone: Page, demo_shed: DemoShed) -> None:
    planting = demo_shed.planting("long sauce")
    go(phone, f"#/record/feed?planting={planting}&plants=2,4")
    thumb = Thumb(phone)
    thumb.button("Change")
    thumb.button("All but these")
    thumb.button("Done")
    thumb.button("Write it down")
    expect_told(phone, "Fed: ")
    expect(phone.get_by_role("banner")).to_contain_text("0 waiting")
    plants = log_at(phone, demo_shed.origin)[-1]["subjects"]["plants"]
    assert 2 not in plants
    assert 4 not in plants
    assert len(plants) > 4
