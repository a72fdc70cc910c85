"""What people type stays text: nothing in it runs, and no screen breaks over it."""

from __future__ import annotations

import hashlib
import json
import shutil
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Dialog, Page, expect

from tests.browser.measures import CUT_OFF
from tests.browser.phone import OPEN_GARDEN, record, sync
from tests.browser.screens import PHONE, Thumb, enter, expect_told, go, title
from tests.browser.shed import PATIENCE_S, Shed

LONGEST_NAME = 60
LONGEST_TEXT = 4000
NEXT_SEASON = datetime.now(UTC).year + 1
MARKUP = "<img src=x onerror=ran()><b>b</b></title><script>ran()</script>"[:LONGEST_NAME]
QUOTES = "\"'`--> ${ran()} {{ran()}} &lt;i&gt; %3Cb%3E \\u003cb\\u003e javascript:ran()"[:60]
RIGHT_TO_LEFT = "שלום \u202e gnorw \u2066\u200f فلفل حلو"
PICTURES = "🌶️👩🏽‍🌾🏴‍☠️" * 6
UNBROKEN = "W" * LONGEST_NAME
NAMES = [MARKUP, QUOTES, RIGHT_TO_LEFT, PICTURES, UNBROKEN]
NOTES = ["<svg onload=ran()>" + "W" * (LONGEST_TEXT - 18), "a\n\n<b>\tb  c" * 40, *NAMES]
LURES = "#page img, #page script, #page iframe, #page b b, #page i, [onerror], [onload]"
WATCH = """
globalThis.ran = () => { globalThis.hasRun = true; };
globalThis.violations = [];
addEventListener('securitypolicyviolation',
  (event) => violations.push(`${event.effectiveDirective} ${event.blockedURI}`));
"""
REPORTS = {
    "#/review": "Work it out at the shed",
    "#/scouting": "Ask the shed",
    "#/next-season": "Work out the proposal",
}
# People of hostile names, in a garden of such a name; what is printed are their codes.
INVITE = """
import json
from shedbook.records.gardens import all_gardens
from shedbook.records.models import Garden, db
from shedbook.records.people import LEAD_LINK_LIFETIME_S, invite
names = json.loads({names!r})
with app.app_context():
    garden = all_gardens()[0].id
    codes = [invite(garden, "helper", name, LEAD_LINK_LIFETIME_S).code for name in names]
    db.session.get(Garden, garden).name = names[0]
    db.session.commit()
print(json.dumps(codes))
"""


@dataclass
class Ground:
    """A phone whose garden is full of names that try to be more than names."""

    page: Page
    beds: list[str]
    plantings: list[str]
    notes: list[str]
    photos: list[str]
    complaints: list[str] = field(default_factory=list)

    def addresses(self) -> list[str]:
        places = ["#/", "#/shed", "#/log", "#/walk", "#/garden", "#/phone", "#/record", "#/new/bed"]
        for bed, planting, note in zip(self.beds, self.plantings, self.notes, strict=False):
            both = f"bed={bed}&planting={planting}&plants=1,2"
            places += [f"#/bed/{bed}", f"#/planting/{planting}", f"#/entry/{note}"]
            places += [f"#/record/pick?{both}", f"#/record/planting?{both}"]
            places += [f"#/could-be?planting={planting}", f"#/reckon?planting={planting}"]
            places.append(f"#/seed-bath?planting={planting}")
        photos = [f"#/photo/{photo}" for photo in self.photos]
        return [*places, *REPORTS, "#/attention", *photos, *self.findings()]

    def findings(self) -> list[str]:
        go(self.page, "#/shed")
        found: list[str] = self.page.locator("a[href^='#/finding/']").evaluate_all(
            "(links) => [...new Set(links.map((link) => link.getAttribute('href')))].slice(0, 6)"
        )
        return found


@pytest.fixture(scope="module")
def ground(
    browser: Browser, empty_garden: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Ground]:
    shed = Shed(tmp_path_factory.mktemp("hostile") / "data")
    shutil.copytree(empty_garden, shed.data)
    codes = json.loads(shed.python(INVITE.format(names=json.dumps(NAMES))))
    shed.start()
    try:
        for name, code in zip(NAMES, codes, strict=True):
            pair(shed, code, name)
        page = enter(browser, shed.lead_link(), service_workers="block", **PHONE)
        page.add_init_script(WATCH)
        page.reload()
        ground = fill(page, shed)
        ask_for_reports(page)
        page.on("console", lambda told: hear(ground, told))
        page.on("pageerror", lambda error: ground.complaints.append(str(error)))
        page.on("dialog", lambda dialog: refuse(ground, dialog))
        yield ground
        page.context.close()
    finally:
        shed.kill()


def fill(page: Page, shed: Shed) -> Ground:
    """Write every name and note, one bed and one planting for each name."""
    tab = page.context.new_page()
    tab.route("**/main.js", lambda route: route.abort())
    tab.goto(f"{shed.origin}/")
    tab.evaluate(OPEN_GARDEN)
    beds, plantings = [], []
    for name in NAMES:
        bed = tab.evaluate("async (name) => (await actions.makeBed({name})).id", name)
        details = {"crop": "pepper", "variety": name, "plants": 4, "seed_lot": name}
        make = "async ([details, bed]) => (await actions.makePlanting(details, bed)).id"
        planting = tab.evaluate(make, [details, bed])
        where = {"bed": bed, "planting": planting}
        record(tab, "transplant", {}, where)
        record(tab, "scout", {"organism": name, "grade": "few", "note": name}, where)
        record(tab, "treat", {"method": "product", "product": name}, where)
        record(tab, "trap_set", {"trap": name}, {"bed": bed})
        caught = {"trap": name, "organism": name, "count": 3, "nights": 2}
        record(tab, "trap_read", caught, {"bed": bed})
        record(tab, "wish", {"crop": name[:40], "season": NEXT_SEASON, "plants": 4}, {"bed": bed})
        beds.append(bed)
        plantings.append(planting)
    notes = [record(tab, "note", {"text": text}, {"bed": beds[0]}) for text in NOTES]
    photos = [record(tab, "photo", a_photo(name), {"bed": beds[0]}) for name in NAMES]
    sync(tab)
    assert tab.evaluate("garden.state.attention") == []
    set_aside(tab, beds, plantings)
    tab.close()
    return Ground(page, beds, plantings, notes, photos)


def set_aside(tab: Page, beds: list[str], plantings: list[str]) -> None:
    """Entries that the shed can't take, so that the phone shows them with what is wrong."""
    for name, bed, planting in zip(NAMES, beds, plantings, strict=True):
        wished = {"crop": name[:40], "season": NEXT_SEASON}
        record(tab, "wish", wished, {"bed": bed, "planting": planting})
    sync(tab)
    assert tab.evaluate("garden.state.attention.length") == len(NAMES)


def pair(shed: Shed, code: str, name: str) -> None:
    """A device of a hostile name, of a person of that name."""
    asked = urllib.request.Request(
        f"{shed.origin}/api/session",
        data=json.dumps({"code": code, "device_name": name}).encode(),
        headers={"Content-Type": "application/json", "X-Shedbook": "1"},
    )
    with urllib.request.urlopen(asked, timeout=PATIENCE_S) as answer:
        assert json.load(answer)["device"]["name"] == name


def a_photo(name: str) -> dict[str, Any]:
    """The entry of a photo whose image has not arrived, with a hostile text under it."""
    return {"sha256": hashlib.sha256(name.encode()).hexdigest(), "type": "image/webp", "note": name}


def ask_for_reports(page: Page) -> None:
    """Have the shed work out what it alone can, from entries that are full of hostile names."""
    for address, asking in REPORTS.items():
        go(page, address)
        Thumb(page).button(asking)
        expect(page.get_by_role("main")).to_contain_text("Worked out at the shed", timeout=30_000)


def hear(ground: Ground, told: ConsoleMessage) -> None:
    # The images of these photos never arrived, and a browser tells of each.
    if "/photos/" not in told.location["url"]:
        ground.complaints.append(told.text)


def refuse(ground: Ground, dialog: Dialog) -> None:
    ground.complaints.append(f"dialog: {dialog.message}")
    dialog.dismiss()


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_hostile_text_is_shown_as_text_on_every_screen(ground: Ground, width: int) -> None:
    page = ground.page
    page.set_viewport_size({"width": width, "height": 844})
    for address in ground.addresses():
        go(page, address)
        assert page.locator(LURES).count() == 0, address
        assert page.evaluate(CUT_OFF) == [], address
    assert_nothing_ran(ground)


def assert_nothing_ran(ground: Ground) -> None:
    assert ground.page.evaluate("globalThis.hasRun") is None
    assert ground.page.evaluate("globalThis.violations") == []
    assert ground.complaints == []


def test_hostile_text_is_shown_as_text_on_paper(ground: Ground) -> None:
    """What a browser prints: the same page with other styles."""
    page = ground.page
    page.set_viewport_size({"width": 794, "height": 1123})
    page.emulate_media(media="print")
    try:
        for address in (*REPORTS, f"#/planting/{ground.plantings[0]}", "#/log"):
            go(page, address)
            assert page.locator(LURES).count() == 0, address
    finally:
        page.emulate_media(media="null")
    assert_nothing_ran(ground)


def test_hostile_names_of_people_devices_and_the_garden_are_kept_to_the_letter(
    ground: Ground,
) -> None:
    page = ground.page
    go(page, "#/garden")
    devices = page.get_by_role("region", name="Devices").get_by_role("listitem")
    for name in NAMES:
        own = devices.filter(has=page.get_by_text(name, exact=True))
        shown = " ".join(own.first.evaluate("(one) => one.textContent").split())
        assert shown.count(" ".join(name.split())) == 2, (name, shown)
    shown = page.get_by_role("main").evaluate("(one) => one.textContent")
    assert NAMES[0] in shown
    assert_nothing_ran(ground)


def test_hostile_text_reaches_the_reports_and_stays_text(ground: Ground) -> None:
    page = ground.page
    for address, name in (("#/scouting", MARKUP), ("#/review", MARKUP), ("#/next-season", QUOTES)):
        go(page, address)
        shown = page.get_by_role("main").evaluate("(one) => one.textContent")
        assert name[:40] in shown, address
    assert_nothing_ran(ground)


def test_hostile_text_is_kept_to_the_letter(ground: Ground) -> None:
    page = ground.page
    for name, bed, planting in zip(NAMES, ground.beds, ground.plantings, strict=True):
        go(page, f"#/bed/{bed}")
        expect(title(page)).to_have_js_property("textContent", name)
        go(page, f"#/planting/{planting}")
        assert (title(page).text_content() or "").startswith(name)
    for text, note in zip(NOTES, ground.notes, strict=True):
        go(page, f"#/entry/{note}")
        assert page.locator(".facts dd").first.evaluate("(dd) => dd.textContent.trim()") == text


def test_hostile_text_typed_into_a_form_is_written_as_text(ground: Ground) -> None:
    page = ground.page
    page.set_viewport_size({"width": 390, "height": 844})
    go(page, f"#/record/note?bed={ground.beds[0]}")
    thumb = Thumb(page)
    thumb.fill("Text", MARKUP)
    thumb.button("Write it down")
    expect_told(page, MARKUP)
    expect(page.locator(".line").first).to_contain_text(MARKUP)
    assert page.locator(LURES).count() == 0
    assert page.evaluate("globalThis.hasRun") is None


def test_hostile_addresses_open_a_screen_that_says_so(ground: Ground) -> None:
    page = ground.page
    for address in (
        "#/bed/<img src=x onerror=ran()>",
        "#/finding/%E0%A4%A",
        "#/record/__proto__",
        "#/constructor",
        "#/entry/%00",
        "#/record/water?bed=%3Cscript%3Eran()%3C/script%3E&plants=1e309,-1,x",
        "#/log?page=-1e9&kind=%3Cb%3E&bed=x",
    ):
        go(page, address)
        expect(title(page)).not_to_be_empty()
    assert page.locator(LURES).count() == 0
    assert page.evaluate("globalThis.hasRun") is None
    assert ground.complaints == []
