"""Every screen can be seen, read and worked by everybody: by axe, at all sizes, by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe, AxeResults
from playwright.sync_api import Browser, ConsoleMessage, Page, expect

from tests.browser.demo import DemoShed
from tests.browser.measures import (
    BROKEN_WORDS,
    CUT_OFF,
    FIELD_ACTIONS_TOO_SMALL,
    LETTERS_TOO_SMALL,
    TOO_LOW,
)
from tests.browser.phone import OPEN_GARDEN, record, sync
from tests.browser.places import addresses
from tests.browser.screens import DESK, PHONE, enter, expect_told, go, title

TABS_AT_MOST = 60
USUAL_PX = 16

# A name as a person hears it: its own label, that of the form, or its words.
FOCUSED = """() => {
  const one = document.activeElement;
  const words = (some) => some.textContent.trim().replace(/\\s+/g, ' ');
  return one.getAttribute('aria-label') ?? words(one.labels?.[0] ?? one);
}"""
IS_FOCUS_SEEN = """() => {
  const one = document.activeElement;
  const held = one.closest('label, .stepper-value') ?? one;
  const touch = one.querySelector('.plan-touch');
  return touch ? getComputedStyle(touch).stroke !== 'none'
    : [one, held].some((some) => getComputedStyle(some).outlineStyle !== 'none');
}"""


@dataclass
class Window:
    """A browser with the demo garden, what it complained of, and the addresses of all screens."""

    page: Page
    complaints: list[str] = field(default_factory=list)
    places: dict[str, str] = field(default_factory=dict)

    def listen(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self.complaints.append(message.text)


@pytest.fixture(scope="module", params=[PHONE, DESK], ids=["phone", "desk"])
def window(
    browser: Browser, demo_shed: DemoShed, request: pytest.FixtureRequest
) -> Iterator[Window]:
    page = enter(browser, demo_shed.lead_link(), service_workers="block", **request.param)
    yield look_everywhere(page, demo_shed)
    page.context.close()


@pytest.fixture(scope="module")
def outdoors(browser: Browser, demo_shed: DemoShed) -> Iterator[Window]:
    """A phone in Spanish, in the look for full sun, with the buttons for the left thumb."""
    page = enter(
        browser,
        demo_shed.lead_link(),
        service_workers="block",
        reduced_motion="reduce",
        **PHONE,
    )
    window = look_everywhere(page, demo_shed)
    go(page, "#/phone")
    page.get_by_role("radio", name="Español").check()
    page.get_by_role("radio", name="Para pleno sol").check()
    page.get_by_role("radio", name="Botones a la izquierda").check()
    yield window
    page.context.close()


def look_everywhere(page: Page, shed: DemoShed) -> Window:
    have_an_entry_set_aside(page, shed)
    page.reload()
    expect(page.get_by_role("banner")).to_contain_text("needs attention")
    window = Window(page)
    page.on("console", window.listen)
    page.on("pageerror", lambda error: window.complaints.append(str(error)))
    window.places = addresses(page, shed)
    return window


def have_an_entry_set_aside(page: Page, shed: DemoShed) -> None:
    """Write what no form lets through, so that the screen of such entries has something to show."""
    tab = page.context.new_page()
    tab.route("**/main.js", lambda route: route.abort())
    tab.goto(f"{shed.origin}/")
    tab.evaluate(OPEN_GARDEN)
    record(tab, "water", {"volume_l": -5}, {"bed": shed.bed("Long bed")})
    sync(tab)
    tab.close()


def test_axe_finds_nothing_on_any_screen(window: Window) -> None:
    assert not axe_everywhere(window, {"resultTypes": ["violations"]})


def test_axe_finds_enough_contrast_in_the_dark(window: Window) -> None:
    window.page.emulate_media(color_scheme="dark")
    found = axe_everywhere(window, {"resultTypes": ["violations"], "runOnly": ["color-contrast"]})
    window.page.emulate_media(color_scheme="light")
    assert not found


@pytest.mark.parametrize("width", [None, 320, 195], ids=["own_size", "narrow", "twice_the_text"])
def test_no_screen_scrolls_sideways_or_cuts_text(window: Window, width: int | None) -> None:
    own = window.page.viewport_size
    assert own is not None
    # Half the width of a phone is what text of twice the size leaves of it.
    window.page.set_viewport_size({"width": width or own["width"], "height": own["height"]})
    found = everywhere(window, CUT_OFF)
    window.page.set_viewport_size(own)
    assert not found, "\n".join(found)


def test_no_word_goes_on_in_a_second_line(window: Window) -> None:
    found = everywhere(window, BROKEN_WORDS)
    assert not found, "\n".join(found)


def test_letters_of_twice_the_size_leave_nothing_cut(window: Window) -> None:
    session = window.page.context.new_cdp_session(window.page)
    session.send("Page.setFontSizes", {"fontSizes": {"standard": 2 * USUAL_PX}})
    found = everywhere(window, CUT_OFF)
    size = window.page.evaluate("parseFloat(getComputedStyle(document.documentElement).fontSize)")
    session.send("Page.setFontSizes", {"fontSizes": {"standard": USUAL_PX}})
    session.detach()
    assert size > 2 * USUAL_PX
    assert not found, "\n".join(found)


def test_targets_are_large_enough_for_wet_hands(window: Window) -> None:
    found = everywhere(window, TOO_LOW)
    assert not found, "\n".join(found)


def test_field_actions_are_large_enough_for_an_arms_length(window: Window) -> None:
    own = window.page.viewport_size
    assert own is not None
    # The desk stands in the shed, but its window may be as narrow as a phone.
    window.page.set_viewport_size(PHONE["viewport"])
    found = everywhere(window, FIELD_ACTIONS_TOO_SMALL)
    window.page.set_viewport_size(own)
    assert not found, "\n".join(found)


def test_outdoors_in_spanish_axe_finds_nothing(outdoors: Window) -> None:
    assert outdoors.page.evaluate("document.documentElement.lang") == "es"
    assert not axe_everywhere(outdoors, {"resultTypes": ["violations"]})


@pytest.mark.parametrize(
    "ask",
    [CUT_OFF, BROKEN_WORDS, FIELD_ACTIONS_TOO_SMALL, LETTERS_TOO_SMALL],
    ids=["cut", "words", "targets", "letters"],
)
def test_outdoors_in_spanish_everything_is_large_and_nothing_is_cut(
    outdoors: Window, ask: str
) -> None:
    found = everywhere(outdoors, ask)
    assert not found, "\n".join(found)


def test_outdoors_in_spanish_twice_the_text_leaves_nothing_cut(outdoors: Window) -> None:
    own = PHONE["viewport"]
    outdoors.page.set_viewport_size({"width": own["width"] // 2, "height": own["height"]})
    found = everywhere(outdoors, CUT_OFF)
    outdoors.page.set_viewport_size(own)
    assert not found, "\n".join(found)


def test_outdoors_for_the_left_thumb_buttons_lie_on_the_left(outdoors: Window) -> None:
    page = outdoors.page
    half = PHONE["viewport"]["width"] / 2
    go(page, "#/")
    for press in page.locator(".work-press").all()[:3]:
        box = press.bounding_box()
        assert box is not None
        assert box["x"] + box["width"] / 2 < half
    go(page, outdoors.places["water"])
    for press in page.locator(".stepper button").all():
        box = press.bounding_box()
        assert box is not None
        assert box["x"] + box["width"] / 2 < half


def test_outdoors_with_less_motion_nothing_moves_or_buzzes(outdoors: Window) -> None:
    page = outdoors.page
    go(page, "#/phone")
    expect(page.get_by_role("radio", name="No vibrar")).to_be_checked()
    moving = page.evaluate("""() => [...document.querySelectorAll('#page *')].filter((one) =>
      parseFloat(getComputedStyle(one).transitionDuration) > 0
      || parseFloat(getComputedStyle(one).animationDuration) > 0).length""")
    assert moving == 0


def test_no_screen_breaks_the_policy_or_complains(window: Window) -> None:
    window.complaints.clear()
    everywhere(window, "() => []")
    assert not window.complaints


def test_keyboard_reaches_and_works_the_round(window: Window, demo_shed: DemoShed) -> None:
    page = window.page
    go(page, "#/log")
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUSED) == "Skip to the page"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "sheet"

    tab_to(page, "Round")
    page.keyboard.press("Enter")
    expect(title(page)).to_have_text("Round")
    tab_to(page, "Feed: Side-dress with nitrogen, Gate bed: early short green (pepper)")
    page.keyboard.press("Enter")
    expect_told(page, "Fed: early short green (pepper)")
    page.keyboard.press("Control+z")
    expect_told(page, "Took back")


def test_keyboard_chooses_plants_and_fills_a_form(window: Window, demo_shed: DemoShed) -> None:
    page = window.page
    go(page, f"#/planting/{demo_shed.planting('long sauce')}")
    tab_to(page, "Plant 1, row 1, long sauce (tomato)")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Space")
    expect(page.get_by_role("checkbox", name="Plant 2, row 1")).to_be_checked()
    tab_to(page, "Scout")
    page.keyboard.press("Enter")
    expect(title(page)).to_have_text("Scout")
    tab_to(page, "Pest or disease needed")
    page.keyboard.type("Whiteflies")
    tab_to(page, "None")
    page.keyboard.press("ArrowRight")
    tab_to(page, "Write it down")
    page.keyboard.press("Enter")
    expect_told(page, "Scouted: long sauce (tomato), plant 2, Whiteflies, Few")


def tab_to(page: Page, name: str) -> None:
    """Go on with the Tab key to what has this name; the focus must be seen on the way."""
    for _ in range(TABS_AT_MOST):
        page.keyboard.press("Tab")
        if page.evaluate(FOCUSED) == name:
            assert page.evaluate(IS_FOCUS_SEEN)
            return
    raise AssertionError(f"no way to {name!r} by keyboard; at {page.evaluate(FOCUSED)!r}")


def axe_everywhere(window: Window, options: dict[str, Any]) -> list[str]:
    """What axe reports on every screen. The app is one page, so that axe is brought in but once."""
    window.page.evaluate(Axe().axe_script)
    found = []
    for name, address in window.places.items():
        go(window.page, address)
        results = AxeResults(window.page.evaluate("(options) => axe.run(options)", options))
        if results.violations_count:
            found.append(f"{name}: {results.generate_report()}")
    return found


def everywhere(window: Window, ask: str) -> list[str]:
    """What a question finds on every screen."""
    found = []
    for name, address in window.places.items():
        go(window.page, address)
        found += [f"{name}: {one}" for one in window.page.evaluate(ask)]
    return found
