"""What people type stays text: nothing in it runs, and no screen breaks over it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Dialog, Page, expect

from tests.browser.measures import CUT_OFF
from tests.browser.phone import OPEN_GARDEN, record, sync
from tests.browser.screens import PHONE, Thumb, enter, expect_told, go, title
from tests.browser.shed import Shed

LONGEST_NAME = 60
LONGEST_TEXT = 4000
MARKUP = "<img src=x onerror=ran()><b>b</b></title><script>ran()</script>"[:LONGEST_NAME]
QUOTES = "\"'`--> ${ran()} {{ran()}} &lt;i&gt; %3Cb%3E \\u003cb\\u003e javascript:ran()"[:60]
RIGHT_TO_LEFT = "שלום \u202e gnorw \u2066\u200f فلفل حلو"
PICTURES = "🌶️👩🏽‍🌾🏴‍☠️" * 6
UNBROKEN = "W" * LONGEST_NAME
NAMES = [MARKUP, QUOTES, RIGHT_TO_LEFT, PICTURES, UNBROKEN]
NOTES = ["<svg onload=ran()>" + "W" * (LONGEST_TEXT - 18), "a\n\n<b>\tb  c" * 40, *NAMES]
LURES = "#page img, #page script, #page iframe, #page b b, #page i, [onerror], [onload]"
WATCH = "globalThis.ran = () => { globalThis.hasRun = true; };"


@dataclass
class Ground:
    """A phone whose garden is full of names that try to be more than names."""

    page: Page
    beds: list[str]
    plantings: list[str]
    notes: list[str]
    complaints: list[str] = field(default_factory=list)

    def addresses(self) -> list[str]:
        places = ["#/", "#/shed", "#/log", "#/walk", "#/garden", "#/phone", "#/record", "#/new/bed"]
        for bed, planting, note in zip(self.beds, self.plantings, self.notes, strict=False):
            both = f"bed={bed}&planting={planting}&plants=1,2"
            places += [f"#/bed/{bed}", f"#/planting/{planting}", f"#/entry/{note}"]
            places += [f"#/record/pick?{both}", f"#/record/planting?{both}"]
        return [*places, *self.findings()]

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
    shed.start()
    page = enter(browser, shed.lead_link(), service_workers="block", **PHONE)
    page.add_init_script(WATCH)
    page.reload()
    ground = fill(page, shed)
    page.on("console", lambda told: ground.complaints.append(told.text))
    page.on("pageerror", lambda error: ground.complaints.append(str(error)))
    page.on("dialog", lambda dialog: refuse(ground, dialog))
    yield ground
    page.context.close()
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
        beds.append(bed)
        plantings.append(planting)
    notes = [record(tab, "note", {"text": text}, {"bed": beds[0]}) for text in NOTES]
    sync(tab)
    assert tab.evaluate("garden.state.attention") == []
    tab.close()
    return Ground(page, beds, plantings, notes)


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
    assert page.evaluate("globalThis.hasRun") is None
    assert ground.complaints == []


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
