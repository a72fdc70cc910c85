"""The scouting walk: plants tapped one by one offline, until the answer is plain."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.screens import Thumb, expect_told, keep_all, log_at, part
from tests.browser.shed import Shed

MAKE_PLANTING = "async ({details, bed}) => (await actions.makePlanting(details, bed)).id"
EARWORMS = "Corn earworm"
RETRY_AT_THE_LATEST = "05:00"
# As if the browser were killed between the walk's entries and the mark that they are written.
REFUSE_THE_MARK = """() => {
  const { put } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.put = function (value, key) {
    if (key === 'walks') throw new DOMException('killed', 'AbortError');
    return put.call(this, value, key);
  };
}"""
SCOUTINGS = """async () => (await garden.store.getAll('entries'))
  .filter((entry) => entry.kind === 'scout').length"""


def planted(phone: Phone, shed: Shed, plants: int = 40, **setting: Any) -> tuple[str, str]:
    """A bed of peppers that are out; the ids of bed and planting."""
    bare = phone.garden(shed.lead_link())
    bed = make_bed(bare)
    record(bare, "bed", {"length_m": 5, "width_m": 1.5}, {"bed": bed})
    if setting:
        record(bare, "setting", setting)
    details = {"crop": "pepper", "variety": "long mild red", "plants": plants, "rows": 4}
    planting: str = bare.evaluate(MAKE_PLANTING, {"details": details, "bed": bed})
    record(bare, "transplant", {}, {"bed": bed, "planting": planting})
    sync(bare)
    bare.close()
    return bed, planting


def start(page: Page, organism: str, count: str, path: str = "Evenly over the bed") -> Thumb:
    thumb = Thumb(page)
    expect(page.get_by_role("button", name="Start the walk")).to_be_visible()
    choice = page.get_by_role("radio", name=organism, exact=True)
    if not choice.count():
        page.get_by_role("combobox", name="Something else…").select_option(label=organism)
    thumb.choice(organism)
    thumb.choice(count)
    thumb.choice(path)
    thumb.button("Start the walk")
    expect(page.get_by_role("button", name="Clean", exact=True)).to_be_visible()
    return thumb


def tap_next(page: Page, thumb: Thumb, name: str | re.Pattern[str]) -> None:
    """Tell what is on the plant that is named, and wait until that is kept."""
    words = page.locator(".walk-look .small").first
    before = words.inner_text()
    thumb.tap(page.get_by_role("button", name=name, exact=isinstance(name, str)))
    expect(words).not_to_have_text(before)


def offline(phone: Phone, shed: Shed, address: str) -> Page:
    """A screen in a tab that was opened after the shed had stopped."""
    opened = phone.open()
    keep_all(opened)
    shed.kill()
    opened.close()
    page = phone.context.new_page()
    page.clock.install()
    page.goto(f"{shed.origin}/{address}")
    return page


def walked(page: Page) -> str:
    return page.locator("#walk-next").inner_text()


def test_clean_plants_end_the_walk_early_and_it_is_written_as_named_plants(
    shed: Shed, phone: Phone
) -> None:
    bed, _planting = planted(phone, shed, thresholds={"scout_threshold.corn_earworm": 0.3})
    page = offline(phone, shed, f"#/scouting-walk?bed={bed}")
    thumb = start(page, EARWORMS, "30")
    told = part(page, "So far")
    tap_next(page, thumb, "Clean")
    expect(told).to_contain_text("Not decided yet.")
    expect(told).to_contain_text("None found on 1 plant looked at.")
    taps = 1
    while walked(page) != "The walk is over":
        assert taps < 30, "the stop line is never met"
        tap_next(page, thumb, "Clean")
        taps += 1
    expect(told).to_contain_text("The answer is plain: below the action threshold.")
    expect(told).to_contain_text("of all may still be affected (95%)")
    thumb.button("Write it down")
    expect_told(page, "Scouted: long mild red (pepper)")
    expect(page.get_by_role("main")).to_contain_text(f"{EARWORMS}, {taps} plants looked at")
    thumb.link("See the finding")
    expect(page.get_by_role("main")).to_contain_text("below the action threshold of 30%")

    shed.start()
    page.clock.fast_forward(RETRY_AT_THE_LATEST)
    expect(page.get_by_role("banner")).to_contain_text(re.compile(r"\b0 waiting"))
    written = [one for one in log_at(page, shed.origin) if one["kind"] == "scout"]
    assert [one["details"] for one in written] == [
        {"organism": "corn_earworm", "plants_looked": taps, "plants_affected": 0, "grade": "none"}
    ]
    assert len(written[0]["subjects"]["plants"]) == taps


def test_finds_say_above_and_one_entry_a_grade_goes_over_at_once(shed: Shed, phone: Phone) -> None:
    _bed, planting = planted(phone, shed, thresholds={"scout_threshold.corn_earworm": 0.1})
    page = phone.open(f"/#/scouting-walk?planting={planting}")
    thumb = start(page, EARWORMS, "20", "By lot")
    told = part(page, "So far")
    grades = ["Few", "Some", "Many", "Few", "Few"]
    for grade in grades:
        tap_next(page, thumb, re.compile(f"^{grade} "))
    expect(told).to_contain_text("Found on 5 of 5 plants looked at: 100%")
    expect(told).to_contain_text("On average at least 6 a plant")
    expect(told).to_contain_text("The answer is plain: at or above the action threshold.")
    thumb.button("Look at the others too")
    tap_next(page, thumb, "Clean")
    thumb.button("Write it down")
    expect(page.get_by_role("main")).to_contain_text("A threshold is a guide")
    expect(page.get_by_role("banner")).to_contain_text(re.compile(r"\b0 waiting"))
    written = [one for one in log_at(page, shed.origin) if one["kind"] == "scout"]
    assert [(one["details"]["grade"], one["details"]["plants_affected"]) for one in written] == [
        ("none", 0),
        ("few", 3),
        ("some", 1),
        ("many", 1),
    ]


def test_undone_tap_brings_the_plant_back(shed: Shed, phone: Phone) -> None:
    _, planting = planted(phone, shed)
    page = phone.open(f"/#/scouting-walk?planting={planting}")
    thumb = start(page, "Anything unusual", "10")
    plant = walked(page)
    assert re.fullmatch(r"Plant \d+: row \d, place \d+", plant)
    tap_next(page, thumb, re.compile("^Many "))
    assert walked(page) != plant
    thumb.button("Undo the last tap")
    expect(page.locator("#walk-next")).to_have_text(plant)
    expect(part(page, "So far")).to_contain_text("Nothing looked at yet.")
    tap_next(page, thumb, "Pass over it")
    expect(part(page, "So far")).to_contain_text("Nothing looked at yet.")


def two_looked_at(phone: Phone, shed: Shed) -> tuple[Page, Thumb, str]:
    """A walk after a clean plant and one with a find; its screen, the thumb and the address."""
    _, planting = planted(phone, shed)
    address = f"/#/scouting-walk?planting={planting}"
    page = phone.open(address)
    thumb = start(page, "Anything unusual", "10")
    tap_next(page, thumb, "Clean")
    tap_next(page, thumb, re.compile("^Some "))
    return page, thumb, address


def test_walk_of_a_killed_browser_goes_on_where_it_was(shed: Shed, phone: Phone) -> None:
    page, _, _ = two_looked_at(phone, shed)
    there = walked(page)
    phone.kill()
    again = phone.open("/")
    again.get_by_role("link", name="walk not finished").tap()
    expect(again.locator("#walk-next")).to_have_text(there)
    expect(part(again, "So far")).to_contain_text("Found on 1 of 2 plants looked at")


def test_walk_of_a_browser_killed_before_its_mark_is_written_once(shed: Shed, phone: Phone) -> None:
    page, thumb, address = two_looked_at(phone, shed)
    page.evaluate(REFUSE_THE_MARK)
    thumb.button("Write it down")
    expect(page.get_by_role("button", name="Another walk")).to_be_visible()
    phone.kill()
    again = phone.open(address)
    expect(again.get_by_role("button", name="Another walk")).to_be_visible()
    expect(again.get_by_role("link", name="walk not finished")).to_have_count(0)
    assert phone.garden().evaluate(SCOUTINGS) == 2


def test_one_heavy_plant_among_clean_ones_is_named_a_hot_spot(shed: Shed, phone: Phone) -> None:
    _, planting = planted(phone, shed)
    page = phone.open(f"/#/scouting-walk?planting={planting}")
    thumb = start(page, "Anything unusual", "10")
    told = part(page, "So far")
    heavy = re.findall(r"\d+", walked(page))
    tap_next(page, thumb, re.compile("^Many "))
    for _ in range(9):
        expect(told).not_to_contain_text("below the action threshold")
        tap_next(page, thumb, "Clean")
    expect(told).to_contain_text(f"Hot spot: plant {heavy[0]} in row {heavy[1]} has many")
    expect(told).to_contain_text("No action threshold was published")
    expect(page.locator("#walk-next")).to_have_text("The walk is over")


def test_threshold_of_a_mean_count_is_walked_by_counting(shed: Shed, phone: Phone) -> None:
    _, planting = planted(phone, shed, thresholds={"scout_threshold.colorado_potato_beetle": 0.5})
    page = phone.open(f"/#/scouting-walk?planting={planting}")
    thumb = start(page, "Colorado potato beetles", "10")
    for name in ["3", "Found 10", *["Clean"] * 8]:
        tap_next(page, thumb, name)
    told = part(page, "So far")
    expect(told).to_contain_text("On average 1.3 a plant.")
    thumb.button("Write it down")
    expect(page.get_by_role("button", name="Another walk")).to_be_visible()
    expect(told).to_contain_text("at or above the action threshold of 0.5")
    expect(page.get_by_role("banner")).to_contain_text(re.compile(r"\b0 waiting"))
    written = [one["details"] for one in log_at(page, shed.origin) if one["kind"] == "scout"]
    assert [sorted(one["counts"]) for one in written] == [[0] * 8, [3, 10]]


@pytest.mark.parametrize("path", ["Evenly over the bed", "By lot"])
def test_path_is_shown_on_the_plan_by_the_turn_of_each_plant(
    shed: Shed, phone: Phone, path: str
) -> None:
    _, planting = planted(phone, shed)
    page = phone.open(f"/#/scouting-walk?planting={planting}")
    start(page, "Anything unusual", "10", path)
    turns = page.get_by_role("checkbox", name=re.compile(r"number \d+ of the walk"))
    expect(turns).to_have_count(10)
    expect(page.get_by_role("checkbox", checked=True)).to_have_accessible_name(
        re.compile("number 1 of the walk")
    )
