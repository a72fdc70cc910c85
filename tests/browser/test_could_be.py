"""What could this be: signs picked with no shed in reach, ranked, and written down."""

from __future__ import annotations

from axe_playwright_python.sync_playwright import Axe, AxeResults
from playwright.sync_api import Locator, Page, expect

from tests.browser.measures import CUT_OFF, TOO_LOW
from tests.browser.phone import Phone, make_bed, record, sync
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

MAKE_PLANTING = "async ({details, bed}) => (await actions.makePlanting(details, bed)).id"
RETRY_AT_THE_LATEST = "05:00"
WETS_EACH_DAY_MM = 12
WET_DAYS = 5
RAIN = """async ({depth, days}) => {
  for (let ago = 1; ago <= days; ago += 1) {
    await garden.record({kind: 'rain', details: {depth_mm: depth}, happened_at: noonAgo(ago)});
  }
}"""


def plant_peppers(phone: Phone, shed: Shed) -> tuple[str, str]:
    """A bed of peppers that are out, and rain on the last days; the ids of bed and planting."""
    bare = phone.garden(shed.lead_link())
    bed = make_bed(bare)
    details = {"crop": "pepper", "variety": "long mild red", "plants": 12}
    planting: str = bare.evaluate(MAKE_PLANTING, {"details": details, "bed": bed})
    record(bare, "transplant", {}, {"bed": bed, "planting": planting})
    bare.evaluate(RAIN, {"depth": WETS_EACH_DAY_MM, "days": WET_DAYS})
    sync(bare)
    bare.close()
    return bed, planting


def pick(thumb: Thumb, sign: str) -> None:
    thumb.tap(thumb.page.get_by_role("checkbox", name=sign, exact=True))


def open_part(thumb: Thumb, organ: str) -> None:
    thumb.tap(thumb.page.locator("summary", has_text=organ).first)


def causes(page: Page) -> Locator:
    return part(page, "Likely causes").get_by_role("heading", level=3)


def test_signs_picked_offline_are_ranked_and_written_down(shed: Shed, phone: Phone) -> None:
    bed, planting = plant_peppers(phone, shed)
    page = open_offline(phone, shed, planting)
    thumb = Thumb(page)
    thumb.link("What could this be?")
    expect(title(page)).to_have_text("What could this be?")
    pick_signs(thumb)
    see_that_it_is_sound(page)
    read_the_first(thumb)
    thumb.button("I suspect Phytophthora blight")
    thumb.button("Write down what was seen")
    expect_told(page, "Signs seen: long mild red (pepper)")
    expect(title(page)).to_have_text("long mild red (pepper)")
    expect(part(page, "Its story")).to_contain_text("White mould on the fruit, perhaps")
    expect_waiting(page, 1)

    shed.start()
    page.clock.fast_forward(RETRY_AT_THE_LATEST)
    expect_waiting(page, 0)
    written = log_at(page, shed.origin)[-1]
    assert written["kind"] == "signs"
    assert written["subjects"] == {"bed": bed, "planting": planting}
    assert written["details"] == {
        "signs": ["stem_dark_base", "fruit_white_mould"],
        "suspected": "phytophthora_blight",
    }


def open_offline(phone: Phone, shed: Shed, planting: str) -> Page:
    """The planting's screen in a tab that was opened after the shed had stopped."""
    opened = phone.open()
    keep_all(opened)
    shed.kill()
    page = phone.context.new_page()
    page.clock.install()
    page.goto(f"{shed.origin}/#/planting/{planting}")
    expect_waiting(page, 0)
    return page


def pick_signs(thumb: Thumb) -> None:
    """From nothing over one vague sign to two that tell."""
    results = part(thumb.page, "Likely causes")
    expect(results).to_contain_text("Pick what you see")
    expect(results.get_by_role("button", name="Write down what was seen")).to_have_count(0)
    pick(thumb, "Stays small")
    expect(results).to_contain_text("Not enough to go by")
    open_part(thumb, "Stems and tips")
    pick(thumb, "Dark or soaked band on the stem at the ground")
    pick(thumb, "White mould on the fruit")
    pick(thumb, "Stays small")
    expect(causes(thumb.page).first).to_have_text("Phytophthora blight")
    expect(results).to_contain_text("None of them is certain")


def read_the_first(thumb: Thumb) -> None:
    results = part(thumb.page, "Likely causes")
    first = results.get_by_role("listitem").filter(has_text="Phytophthora blight").first
    expect(first).to_contain_text("Speaks for it")
    expect(first).to_contain_text("60 mm of rain in the last 14 days: that makes it likelier")
    thumb.tap(results.get_by_text("Phytophthora blight: what to do"))
    expect(first).to_contain_text("Send a sample to a plant clinic when")
    expect(first).to_contain_text("Easily mistaken for:")


def see_that_it_is_sound(page: Page) -> None:
    """The screen with causes on it, by axe and by size, in the light and in the dark."""
    page.evaluate(Axe().axe_script)
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        found = AxeResults(page.evaluate("() => axe.run({resultTypes: ['violations']})"))
        assert not found.violations_count, found.generate_report()
    page.emulate_media(color_scheme="light")
    assert not page.evaluate(CUT_OFF)
    assert not page.evaluate(TOO_LOW)


def test_two_causes_too_close_ask_for_the_signs_that_tell_them_apart(
    shed: Shed, phone: Phone
) -> None:
    bed, _ = plant_peppers(phone, shed)
    page = phone.open(f"/#/could-be?bed={bed}")
    thumb = Thumb(page)
    pick(thumb, "Patches of light and dark green, like a mosaic")
    pick(thumb, "Leaves crinkled, puckered or twisted")
    results = part(page, "Likely causes")
    expect(results).to_contain_text("Two causes are too close to tell apart")
    expect(results).to_contain_text("would speak for: Potato virus Y and its kin")
    pick(thumb, "Veins pale, or dark green bands along them")
    expect(causes(page).first).to_have_text("Potato virus Y and its kin")
    expect(results).not_to_contain_text("too close")


def test_bed_in_which_nothing_grows_says_so(shed: Shed, phone: Phone) -> None:
    bare = phone.garden(shed.lead_link())
    bed = make_bed(bare)
    bare.close()
    page = phone.open(f"/#/could-be?bed={bed}")
    expect(page.get_by_role("main")).to_contain_text("Nothing grows here.")
    go(page, "#/could-be?planting=none")
    expect(title(page)).to_have_text("Not on this phone")
