"""Photos as a person takes, sees, notes and takes them back."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Route, expect

from tests.browser.phone import Phone, make_bed
from tests.browser.photos import (
    KEPT,
    PHOTOS,
    add_photo,
    choose,
    expect_drawn,
    hashes_at,
    paired,
    talk,
)
from tests.browser.pictures import a_camera_picture, a_small_picture, look_at
from tests.browser.screens import expect_told, go, log_at, part, title
from tests.browser.shed import Shed

NewPhone = Callable[[], Phone]
COUNT_ADDRESSES = """() => {
  globalThis.addresses = new Set();
  const { createObjectURL, revokeObjectURL } = URL;
  URL.createObjectURL = (blob) => {
    const address = createObjectURL.call(URL, blob);
    addresses.add(address);
    return address;
  };
  URL.revokeObjectURL = (address) => {
    addresses.delete(address);
    revokeObjectURL.call(URL, address);
  };
}"""
INVITE_READER = """
from shedbook.records.gardens import all_gardens
from shedbook.records.people import LEAD_LINK_LIFETIME_S, invite
with app.app_context():
    print(invite(all_gardens()[0].id, "reader", "Rosa", LEAD_LINK_LIFETIME_S).code)
"""


def test_photo_taken_with_an_entry_offline_is_there_after_a_reload_and_reaches_the_shed(
    shed: Shed, phone: Phone
) -> None:
    page = phone.open(shed.lead_link())
    expect(page.get_by_role("banner")).to_contain_text("Shed heard")
    page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    shed.kill()
    go(page, "#/record/note")
    page.get_by_role("textbox", name=re.compile("^Text")).fill("Spots on the leaves")
    choose(page, "Add a photo", a_camera_picture())
    choose(page, "Choose a picture", a_small_picture())
    expect_drawn(page.get_by_role("img", name="New picture 2"))
    page.get_by_role("button", name="Leave out: New picture 2").tap()
    expect(page.get_by_role("img", name="New picture 2")).to_have_count(0)
    page.get_by_role("button", name="Write it down").tap()
    expect_told(page, "Noted")
    expect(page.get_by_role("banner")).to_contain_text("1 photo waits")
    expect(page.get_by_role("banner")).to_contain_text("2 waiting")

    page.reload()
    expect(page.get_by_role("banner")).to_contain_text("1 photo waits")
    go(page, "#/log")
    expect_drawn(page.locator(".line img"))
    page.locator(".line a.thumb").tap()
    expect(title(page)).to_have_text("Picture")
    expect_drawn(page.locator(".photo img"))
    expect(page.locator("main")).to_contain_text("Taken with")

    shed.start()
    go(page, "#/phone")
    page.get_by_role("button", name="Talk to the shed now").tap()
    expect(page.get_by_role("banner")).to_contain_text("0 waiting")
    expect(page.get_by_role("banner")).not_to_contain_text("photo waits")
    note, photo = log_at(page, shed.origin)
    assert [note["kind"], photo["kind"]] == ["note", "photo"]
    assert photo["details"]["shows"] == note["id"]
    sha256 = photo["details"]["sha256"]
    address = f"{shed.origin}/api/gardens/{photo['garden']}/photos/{sha256}"
    arrived = page.context.request.get(address).body()
    assert hashlib.sha256(arrived).hexdigest() == sha256
    assert look_at(arrived).size == (1067, 1600)


@pytest.mark.parametrize(
    ("status", "code", "told"),
    [
        (507, "photos_full", "no room for more photos"),
        (422, "photo_unreadable", "could not read this picture"),
    ],
)
def test_photo_that_the_shed_refuses_is_told_with_the_reason_kept_and_sent_again_by_hand(
    shed: Shed, phone: Phone, status: int, code: str, told: str
) -> None:
    page = phone.open(shed.lead_link())
    expect(page.get_by_role("banner")).to_contain_text("Shed heard")
    tries: list[str] = []

    def refuse(route: Route) -> None:
        tries.append(route.request.url)
        error = {"code": code, "message": "No.", "fields": {}, "hint": ""}
        route.fulfill(status=status, body=json.dumps({"error": error}))

    page.route(PHOTOS, refuse)
    go(page, "#/record/note")
    choose(page, "Add a photo", a_small_picture())
    page.get_by_role("textbox", name=re.compile("^Text")).fill("Spots")
    page.get_by_role("button", name="Write it down").tap()
    page.get_by_role("link", name="1 entry needs attention").first.tap()
    expect(page.locator("main")).to_contain_text(told)
    expect_drawn(page.locator("main img"))
    expect(page.get_by_role("banner")).not_to_contain_text("photo waits")
    page.reload()
    expect(page.get_by_role("banner")).to_contain_text("1 entry needs attention")
    assert len(tries) == 1

    page.unroute(PHOTOS)
    page.get_by_role("button", name="Send refused photos again").tap()
    expect(page.locator("main")).to_contain_text("Nothing needs attention")
    assert len(hashes_at(shed)) == 1


def test_photo_of_one_phone_is_seen_on_another_and_stays_there_without_the_shed(
    shed: Shed, new_phone: NewPhone
) -> None:
    page = paired(new_phone(), shed.lead_link())
    bed = make_bed(page)
    add_photo(page, bed, file=a_camera_picture())
    talk(page)
    late = add_photo(page, bed, file=a_small_picture("blue"))
    page.route(PHOTOS, lambda route: route.abort())
    talk(page)
    assert page.evaluate("garden.state.waiting") == 0
    assert page.evaluate(KEPT)["photos"][-1] == [late, "waiting"]

    other = new_phone().open(shed.helper_link())
    expect(other.get_by_role("banner")).to_contain_text("Shed heard")
    other.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    go(other, f"#/bed/{bed}")
    pictures = part(other, "Pictures").locator("a.thumb")
    expect_drawn(pictures.last.locator("img"))
    expect(pictures.last.locator("img")).to_have_attribute("alt", re.compile("Photo of Long bed, "))
    expect(pictures.first).to_contain_text("Not at the shed yet")
    pictures.first.tap()
    expect(other.locator(".photo")).to_contain_text("has not handed it to the shed yet")

    page.unroute(PHOTOS)
    talk(page)
    go(other, "#/phone")
    other.get_by_role("button", name="Talk to the shed now").tap()
    shed.kill()
    other.reload()
    go(other, f"#/bed/{bed}")
    expect_drawn(pictures.last.locator("img"))
    expect(pictures.first).to_contain_text("Not on this phone")
    pictures.first.tap()
    expect(other.locator(".photo")).to_contain_text("the shed is out of reach")


def test_photo_of_a_bed_is_told_noted_and_taken_back_on_its_screen(
    shed: Shed, phone: Phone
) -> None:
    page = phone.open(shed.lead_link())
    expect(page.get_by_role("banner")).to_contain_text("Shed heard")
    go(page, "#/new/bed")
    page.get_by_role("textbox", name=re.compile("^Name")).fill("Gate bed")
    page.get_by_role("button", name="Make the bed").tap()
    expect(title(page)).to_have_text("Gate bed")
    page.evaluate(COUNT_ADDRESSES)
    choose(page, "Add a photo", a_camera_picture())
    expect_told(page, "Photo taken: Gate bed")
    thumb = part(page, "Pictures").locator("a.thumb")
    expect_drawn(thumb.locator("img"))
    thumb.tap()
    expect_drawn(page.locator(".photo img"))
    expect(page.locator("main")).to_contain_text("Lead")
    page.get_by_role("link", name="Write a note").tap()
    page.get_by_role("textbox", name=re.compile("^Note")).fill("Chewed at the edge")
    page.get_by_role("button", name="Write the correction").tap()
    expect(page.locator(".photo figcaption")).to_have_text("Chewed at the edge")
    alt = re.compile("^Photo of Gate bed, .*: Chewed at the edge$")
    expect(page.locator(".photo img")).to_have_attribute("alt", alt)
    assert page.evaluate("addresses.size") == 1

    page.get_by_role("button", name="Take back").tap()
    expect(page.locator("main")).to_contain_text("Taken back")
    expect(page.locator(".photo")).to_have_count(0)
    assert page.evaluate("addresses.size") == 0
    page.get_by_role("link", name="Gate bed").tap()
    expect(page.locator("a.thumb")).to_have_count(0)


def test_reader_sees_photos_and_no_way_to_add_one(shed: Shed, new_phone: NewPhone) -> None:
    page = paired(new_phone(), shed.lead_link())
    bed = make_bed(page)
    add_photo(page, bed)
    talk(page)
    code = shed.python(INVITE_READER).strip()
    reader = new_phone().open(f"{shed.origin}/#/join/{code}")
    expect(reader.get_by_role("banner")).to_contain_text("Shed heard")
    go(reader, f"#/bed/{bed}")
    expect_drawn(part(reader, "Pictures").locator("img"))
    expect(reader.get_by_text("Add a photo")).to_have_count(0)
    expect(reader.get_by_text("Choose a picture")).to_have_count(0)
    part(reader, "Pictures").locator("a.thumb").tap()
    expect_drawn(reader.locator(".photo img"))
    expect(reader.get_by_role("button", name="Take back")).to_have_count(0)
    go(reader, "#/record/note")
    expect(reader.get_by_text("Add a photo")).to_have_count(0)
