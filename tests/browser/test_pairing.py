"""The lead at a desk lets a phone in by a code, sees it in the list, and shuts it out again."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.screens import DESK, PHONE, Thumb, enter, expect_waiting, go, part, title
from tests.browser.shed import Shed

# Routes of a test see a request only where no service worker stands in between.
OPTIONS = {"service_workers": "block"}
OVER = """
from shedbook.records.engine import now_ms
from shedbook.records.gardens import all_gardens
from shedbook.records.people import PHONE_CODE_LIFETIME_S, invite
with app.app_context():
    long_ago = now_ms() - PHONE_CODE_LIFETIME_S * 1000
    made = invite(all_gardens()[0].id, "helper", "Ana", PHONE_CODE_LIFETIME_S, at_ms=long_ago)
    print(made.code)
"""
READ_PICTURE = "(picture) => picture.decode().then(() => picture.naturalWidth)"


@pytest.fixture
def desk(browser: Browser, shed: Shed) -> Iterator[Page]:
    page = enter(browser, shed.lead_link(), **OPTIONS, **DESK)
    go(page, "#/garden")
    yield page
    for context in browser.contexts:
        context.close()


def test_phone_joins_by_the_code_on_the_leads_screen_and_the_lead_is_told(
    browser: Browser, shed: Shed, desk: Page
) -> None:
    code = make_code(desk)
    assert desk.locator(".invitation-code").evaluate(READ_PICTURE) > 0
    phone = new_phone(browser, shed)
    phone.get_by_label("Code from the shed").fill(code.lower())
    phone.get_by_label("A name for this device").fill("Ana's phone")
    Thumb(phone).button("Join the garden")
    expect(title(phone)).to_have_text("A new book")
    expect(desk.locator(".notices")).to_contain_text("Ana has joined, with: Ana's phone.")
    expect(desk.locator(".invitation")).to_have_count(0)
    row = part(desk, "Devices").get_by_role("listitem").filter(has_text="Ana's phone")
    expect(row).to_contain_text("Ana, helps")
    expect(row).to_contain_text("Heard")


def test_code_that_is_mistyped_used_or_over_is_told_plainly_and_may_be_typed_again(
    browser: Browser, shed: Shed, desk: Page
) -> None:
    code = make_code(desk)
    enter(browser, f"{shed.origin}/#/join/{code.replace(' ', '')}", **OPTIONS, **PHONE)
    phone = new_phone(browser, shed)
    for wrong in ("ABCD EFGH", code, shed.python(OVER).strip()):
        phone.get_by_label("Code from the shed").fill(wrong)
        Thumb(phone).button("Join the garden")
        told = phone.locator(".notice").filter(has_text="mistyped, used already, or over")
        expect(told).to_be_visible()
        told.get_by_role("button", name="Close").tap()
        expect(told).to_have_count(0)
    expect(desk.locator(".notices")).to_contain_text("Ana has joined")
    phone.get_by_label("Code from the shed").fill(make_code(desk))
    Thumb(phone).button("Join the garden")
    expect(title(phone)).to_have_text("A new book")


def test_device_is_shut_out_after_a_second_tap_and_keeps_what_it_has_not_handed_over(
    browser: Browser, shed: Shed, desk: Page
) -> None:
    phone = enter(browser, shed.helper_link(), **OPTIONS, **PHONE)
    phone.route("**/sync", lambda route: route.abort())
    go(phone, "#/record/rain")
    phone.locator("#field-depth_mm").fill("4")
    Thumb(phone).button("Write it down")
    expect_waiting(phone, 1)

    go(desk, "#/phone")
    desk.get_by_role("button", name="Talk to the shed now").click()
    go(desk, "#/garden")
    row = part(desk, "Devices").get_by_role("listitem").filter(has_text="Ana, helps")
    row.get_by_role("button", name="Shut this device out").click()
    row.get_by_role("button", name="Leave it in").click()
    expect(row).to_be_visible()
    row.get_by_role("button", name="Shut this device out").click()
    expect(row).to_contain_text("used by Ana?")
    row.get_by_role("button", name="Yes, shut it out").click()
    expect(row).to_have_count(0)

    phone.unroute("**/sync")
    go(phone, "#/phone")
    Thumb(phone).button("Talk to the shed now")
    main = phone.get_by_role("main")
    expect(main).to_contain_text("The lead has shut this device out.")
    expect(main).to_contain_text("Waiting here: 1 entry.")
    expect(phone.get_by_role("button", name="Undo")).to_have_count(0)
    with phone.expect_download() as download:
        Thumb(phone).button("Save what has not gone over")
    assert '"depth_mm":4' in download.value.path().read_text(encoding="utf-8")


def make_code(desk: Page) -> str:
    desk.get_by_role("textbox", name="Who will use the phone?").fill("Ana")
    desk.get_by_role("button", name="Make a code").click()
    return desk.locator(".invitation-text").inner_text()


def new_phone(browser: Browser, shed: Shed) -> Page:
    page = browser.new_context(**OPTIONS, **PHONE).new_page()
    page.goto(f"{shed.origin}/")
    expect(title(page)).to_have_text("Join a garden")
    return page
