"""Two phones and the shed's dashboard: apart they write, together they agree."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.browser.phone import OPEN_GARDEN, make_bed, record, sync
from tests.browser.screens import (
    DESK,
    PHONE,
    Thumb,
    enter,
    expect_told,
    expect_waiting,
    go,
    log_at,
    part,
)
from tests.browser.shed import Shed

# Routes of a test see a request only where no service worker stands in between.
OPTIONS = {"service_workers": "block"}
NAME = "long mild red (pepper)"
PARTS = {"#/shed": ".leaf-part", "#/round": ".stop", "#/log": ".day"}
MADE = ["bed", "planting", "transplant", "setting"]
ADD_NOTES = """async (subjects) => {
  const ids = [];
  for (let n = 0; n < 30; n += 1) ids.push((await garden.record(
    {kind: 'note', subjects, details: {text: `${n} ${'x'.repeat(3000)}`}})).id);
  return ids;
}"""


@dataclass
class Peppers:
    """A garden with one bed and twelve peppers in it, and the devices that meet there."""

    browser: Browser
    shed: Shed
    bed: str
    planting: str

    def phone(self) -> Page:
        return with_all_screens(enter(self.browser, self.shed.helper_link(), **OPTIONS, **PHONE))

    def desk(self) -> Page:
        return with_all_screens(enter(self.browser, self.shed.lead_link(), **OPTIONS, **DESK))


def with_all_screens(page: Page) -> Page:
    """Seldom opened screens come late, and here no worker keeps them for a shed that ends."""
    go(page, "#/shed")
    page.wait_for_selector(".leaf-part")
    go(page, "#/")
    return page


@pytest.fixture(scope="module")
def pepper_garden(
    browser: Browser, empty_garden: Path, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """The data folder of such a garden, to be copied."""
    shed = Shed(tmp_path_factory.mktemp("peppers") / "data")
    shutil.copytree(empty_garden, shed.data)
    shed.start()
    page = enter(browser, shed.lead_link(), **OPTIONS)
    hands = bare_tab(page, shed)
    bed = make_bed(hands)
    details = {"crop": "pepper", "variety": "long mild red", "plants": 12, "rows": 2}
    make = "async ([details, bed]) => (await actions.makePlanting(details, bed)).id"
    planting = hands.evaluate(make, [details, bed])
    record(hands, "transplant", {}, {"bed": bed, "planting": planting})
    record(hands, "setting", {"stale_after_hours": 2})
    sync(hands)
    page.context.close()
    shed.kill()
    (shed.data / "made.json").write_text(json.dumps([bed, planting]), encoding="utf-8")
    return shed.data


@pytest.fixture
def peppers(browser: Browser, pepper_garden: Path, tmp_path: Path) -> Iterator[Peppers]:
    shed = Shed(tmp_path / "data")
    shutil.copytree(pepper_garden, shed.data)
    shed.lead_link()  # The first one was spent in making the garden.
    shed.start()
    yield Peppers(browser, shed, *json.loads((shed.data / "made.json").read_text("utf-8")))
    shed.kill()
    for context in browser.contexts:
        context.close()


def test_phones_that_wrote_apart_agree_when_the_shed_is_back(peppers: Peppers) -> None:
    ana, ben, desk = peppers.phone(), peppers.phone(), peppers.desk()
    peppers.shed.kill()
    water(peppers, ana)
    feed_row_two(peppers, ben)
    treat(peppers, ana)
    pick(peppers, ben)
    expect_waiting(ana, 2)
    expect_waiting(ben, 2)

    peppers.shed.start()
    # Who came first hears at the second visit what the others brought.
    for page in (ana, ben, desk, ana):
        talk(page)
    for route in PARTS:
        told = [told_on(page, route) for page in (ana, ben, desk)]
        assert told[0] == told[1] == told[2]
        assert told[0]
    entries = log_at(desk, peppers.shed.origin)
    assert [entry["kind"] for entry in entries] == [*MADE, "water", "treat", "feed", "pick"]
    numbers: dict[str, list[int]] = {}
    for entry in entries:
        numbers.setdefault(entry["notebook"], []).append(entry["number"])
    assert sorted(numbers.values()) == [[1, 2], [1, 2], [1, 2, 3, 4]]


def test_treatment_on_one_phone_withholds_on_the_other_and_at_the_shed(peppers: Peppers) -> None:
    ana, ben = peppers.phone(), peppers.phone()
    peppers.shed.kill()
    treat(peppers, ana)
    go(ben, f"#/planting/{peppers.planting}")
    main = ben.get_by_role("main")
    expect(main).to_contain_text("Picking: nothing written down forbids it. As known at")
    expect(ben.get_by_role("button", name="Pick 3")).to_be_visible()

    peppers.shed.start()
    talk(ana)
    talk(ben)
    go(ben, f"#/planting/{peppers.planting}")
    expect(main).to_contain_text("Picking: not before")
    expect(main).to_contain_text("Stay out until")
    expect(ben.get_by_role("button", name="Pick 3")).to_have_count(0)
    pick_by_form(peppers, ben)
    expect(part(ben, "Also here")).to_contain_text("before the wait ended")
    expect_waiting(ben, 0)
    assert log_at(ben, peppers.shed.origin)[-1]["kind"] == "pick"

    desk = peppers.desk()
    go(desk, "#/shed")
    expect(desk.get_by_role("main")).to_contain_text("As known at")
    withheld = part(desk, "Not to be done yet")
    expect(withheld).to_contain_text(f"Long bed: {NAME}")
    expect(withheld).to_contain_text("Wait until")
    expect(part(desk, "To look at")).to_contain_text("before the wait ended")


def test_phone_that_heard_nothing_for_longer_than_the_lead_allows_says_unknown(
    peppers: Peppers,
) -> None:
    page = peppers.phone()
    page.clock.install()
    page.goto(f"{peppers.shed.origin}/#/planting/{peppers.planting}")
    page.reload()
    main = page.get_by_role("main")
    expect(main).to_contain_text("Picking: nothing written down forbids it.")
    peppers.shed.kill()
    page.clock.fast_forward("01:50:00")
    expect(main).to_contain_text("Picking: nothing written down forbids it.")
    page.clock.fast_forward("00:20:00")
    expect(main).to_contain_text("Picking: not known whether it must wait. As known at")
    expect(main).to_contain_text("Working here: not known whether it must wait.")


@pytest.mark.parametrize("is_committed", [True, False], ids=["answer_lost", "cut_off"])
def test_push_when_the_shed_is_killed_in_it_arrives_once(
    peppers: Peppers, is_committed: bool
) -> None:
    ana = peppers.phone()
    hands = bare_tab(ana, peppers.shed)
    # Two tabs of one device talk in turns: the app's own would bring the entries uncut.
    ana.goto("about:blank")
    ids: list[str] = []

    def cut(route: Route) -> None:
        if not ids:
            route.abort()
        elif is_committed:
            route.fetch()
            peppers.shed.kill()
            route.abort()
        else:
            route.continue_()
            peppers.shed.kill()

    hands.route("**/sync", cut)
    ids += hands.evaluate(ADD_NOTES, {"bed": peppers.bed})
    sync(hands)
    if is_committed:
        assert hands.evaluate("garden.state.waiting") == len(ids)
    hands.close()
    peppers.shed.start()
    ana.goto(f"{peppers.shed.origin}/")
    talk(ana)
    told = [entry["id"] for entry in log_at(ana, peppers.shed.origin)]
    assert sorted(told[len(MADE) :]) == sorted(ids)
    go(ana, "#/log?kind=note")
    expect(ana.locator(".line")).to_have_count(len(ids))


def talk(page: Page) -> None:
    """Talk with the shed by hand until nothing waits."""
    go(page, "#/phone")
    # What the page says is true before the talk as well, on a phone that has nothing to send.
    with page.expect_response(re.compile("/sync$")):
        page.get_by_role("button", name="Talk to the shed now").click()
    expect_waiting(page, 0)
    expect(page.get_by_text("nothing going on")).to_be_visible()


def bare_tab(page: Page, shed: Shed) -> Page:
    """Another tab of the same device, in which a test writes entries itself."""
    tab = page.context.new_page()
    tab.route("**/main.js", lambda route: route.abort())
    tab.goto(f"{shed.origin}/")
    tab.evaluate(OPEN_GARDEN)
    return tab


def told_on(page: Page, route: str) -> list[str]:
    """What a screen says, part by part, without the time at which this device heard it."""
    go(page, route)
    return page.locator(PARTS[route]).all_inner_texts()


def water(peppers: Peppers, page: Page) -> None:
    go(page, f"#/bed/{peppers.bed}")
    Thumb(page).button("20 L: Water Long bed")
    expect_told(page, "Watered")


def feed_row_two(peppers: Peppers, page: Page) -> None:
    go(page, f"#/planting/{peppers.planting}")
    thumb = Thumb(page)
    thumb.button("Row 2")
    thumb.tap(page.locator(".chosen").get_by_role("link", name="Feed", exact=True))
    thumb.button("Write it down")
    expect_told(page, f"Fed: {NAME}, plants 7–12")


def treat(peppers: Peppers, page: Page) -> None:
    go(page, f"#/record/treat?bed={peppers.bed}&planting={peppers.planting}")
    thumb = Thumb(page)
    thumb.choice("Product from a shop")
    thumb.fill("Days to harvest, from the label", "3")
    thumb.fill("Hours to re-entry, from the label", "12")
    thumb.button("Write it down")
    expect_told(page, "Treated")


def pick(peppers: Peppers, page: Page) -> None:
    go(page, f"#/planting/{peppers.planting}")
    Thumb(page).button("Pick 3")
    expect_told(page, "Picked")


def pick_by_form(peppers: Peppers, page: Page) -> None:
    go(page, f"#/record/pick?bed={peppers.bed}&planting={peppers.planting}")
    thumb = Thumb(page)
    thumb.fill("Fruits", "2")
    thumb.button("Write it down")
    expect_told(page, "Picked")
