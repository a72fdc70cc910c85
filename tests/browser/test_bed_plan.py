"""The bed plan: turned, zoomed by two fingers, in layers, with plants chosen by dragging."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.phone import Phone, make_bed, record
from tests.browser.screens import Thumb, go, part, title
from tests.browser.shed import Shed

MAKE_PLANTING = "async ({details, bed}) => (await actions.makePlanting(details, bed)).id"
PEPPERS = {"crop": "pepper", "variety": "long mild red", "plants": 12, "rows": 2, "in_row_m": 0.4}
FIELD = {"crop": "pepper", "variety": "long mild red", "plants": 400, "rows": 4, "in_row_m": 0.3}
RECORD_ON = """async ({kind, details, subjects, day}) =>
  garden.record({kind, details, subjects, happened_at: `${day}T09:00:00+00:00`})"""
# How many plants were drawn anew while something happened.
COUNT_REDRAWN = """() => {
  globalThis.redrawn = 0;
  const seen = new MutationObserver((all) => { redrawn += all.length; });
  const deep = {subtree: true, attributes: true, childList: true};
  for (const one of document.querySelectorAll('.plan-plant')) seen.observe(one, deep);
}"""


def planted(
    phone: Phone, shed: Shed, details: dict[str, Any], size: dict[str, Any]
) -> tuple[Page, str, str]:
    """A tab with a garden in which a bed is planted; the ids of bed and planting."""
    bare = phone.garden(shed.lead_link())
    bed = make_bed(bare)
    record(bare, "bed", size, {"bed": bed})
    planting: str = bare.evaluate(MAKE_PLANTING, {"details": details, "bed": bed})
    record(bare, "transplant", {}, {"bed": bed, "planting": planting})
    return bare, bed, planting


@pytest.fixture
def small(phone: Phone, shed: Shed) -> tuple[Page, str, str]:
    return planted(phone, shed, PEPPERS, {"length_m": 3, "width_m": 1.2})


def on_plan(page: Page, plant: int) -> Locator:
    return page.get_by_role("checkbox", name=f"Plant {plant}, row")


def middle(what: Locator) -> tuple[float, float]:
    box = what.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def wait_until_above(page: Page, upper: int, lower: int) -> None:
    """The plan lies so that one plant is drawn above another."""
    plants = [on_plan(page, plant).element_handle() for plant in (upper, lower)]
    page.wait_for_function(
        "([upper, lower]) => upper.getBoundingClientRect().y < lower.getBoundingClientRect().y",
        arg=plants,
    )


def pinch(page: Page, about: tuple[float, float], gaps: list[float]) -> None:
    """Two fingers about a point, further apart or closer step by step."""
    session = page.context.new_cdp_session(page)
    x, y = about

    def fingers(kind: str, gap: float) -> None:
        points = [
            {"x": x - gap / 2, "y": y, "id": 1},
            {"x": x + gap / 2, "y": y, "id": 2},
        ]
        touches: list[dict[str, float]] = [] if kind == "touchEnd" else points
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touches})

    fingers("touchStart", gaps[0])
    for gap in gaps[1:]:
        fingers("touchMove", gap)
    fingers("touchEnd", gaps[-1])
    session.detach()


def test_layers_tell_each_plant_by_mark_and_by_words(
    phone: Phone, shed: Shed, small: tuple[Page, str, str]
) -> None:
    bare, bed, planting = small
    both = {"bed": bed, "planting": planting}
    record(bare, "pick", {"count": 7}, {**both, "plants": [3]})
    record(bare, "pick", {"count": 4}, {**both, "plants": [4, 5]})
    record(bare, "water", {"volume_l": 10}, {"bed": bed})
    record(bare, "remove_plant", {"cause": "disease"}, {**both, "plants": [12]})
    bare.close()
    page = phone.open(f"/#/bed/{bed}")
    thumb = Thumb(page)
    plan = part(page, "Plan")
    thumb.button("Picked")
    expect(on_plan(page, 3)).to_have_accessible_name(
        "Plant 3, row 1, long mild red (pepper): 7 fruits picked"
    )
    expect(on_plan(page, 3).locator("text")).to_have_text("7")
    expect(plan.get_by_role("row", name="long mild red (pepper), plant 3 7")).to_be_visible()
    expect(plan.get_by_role("row", name="plants 4, 5")).to_contain_text("1 time more")
    thumb.button("Days since water")
    expect(plan.get_by_role("row", name="plants 1–11")).to_contain_text("0 days since water")
    thumb.button("Taken out")
    expect(plan.get_by_role("row", name="plant 12")).to_contain_text("Disease")
    thumb.button("Plants")
    expect(on_plan(page, 3)).to_have_accessible_name("Plant 3, row 1, long mild red (pepper)")


def test_slider_goes_over_the_days_on_which_something_was_looked_for(
    phone: Phone, shed: Shed, small: tuple[Page, str, str]
) -> None:
    bare, bed, planting = small
    looks: list[tuple[str, dict[str, Any], list[int]]] = [
        ("2026-06-01", {"organism": "aphids", "grade": "many"}, [2]),
        ("2026-06-08", {"organism": "aphids", "grade": "none"}, [2]),
    ]
    for day, details, plants in looks:
        subjects = {"bed": bed, "planting": planting, "plants": plants}
        draft = {"kind": "scout", "details": details, "subjects": subjects, "day": day}
        bare.evaluate(RECORD_ON, draft)
    bare.close()
    page = phone.open(f"/#/bed/{bed}")
    Thumb(page).button("Found")
    slider = part(page, "Plan").get_by_role("slider")
    expect(slider).to_have_attribute("aria-valuetext", "8 Jun 2026")
    expect(on_plan(page, 2)).to_have_accessible_name(
        "Plant 2, row 1, long mild red (pepper): Looked at, none found"
    )
    slider.press("ArrowLeft")
    expect(slider).to_have_attribute("aria-valuetext", "1 Jun 2026")
    expect(on_plan(page, 2).locator("text")).to_have_text("M")


def test_dragging_chooses_and_all_but_these_turns_the_choice_round(
    phone: Phone, shed: Shed, small: tuple[Page, str, str]
) -> None:
    bare, bed, _ = small
    bare.close()
    page = phone.open(f"/#/bed/{bed}")
    thumb = Thumb(page)
    thumb.button("Choose by dragging")
    plan = part(page, "Plan")
    plan.locator(".plan-ground").scroll_into_view_if_needed()
    page.mouse.move(*middle(on_plan(page, 2)))
    page.mouse.down()
    page.mouse.move(*middle(on_plan(page, 4)), steps=6)
    page.mouse.up()
    expect(plan.locator(".chosen-words")).to_have_text("long mild red (pepper), plants 2–4")
    thumb.button("All but these")
    expect(plan.locator(".chosen-words")).to_have_text("long mild red (pepper), plants 1, 5–12")


def test_plan_is_turned_once_and_stays_so(
    phone: Phone, shed: Shed, small: tuple[Page, str, str]
) -> None:
    bare, bed, _ = small
    bare.close()
    page = phone.open(f"/#/bed/{bed}")
    thumb = Thumb(page)
    assert middle(on_plan(page, 1))[1] < middle(on_plan(page, 7))[1], "row 1 is the far one"
    thumb.tap(page.get_by_text("Nearest edge", exact=True))
    thumb.button("Along the first row")
    wait_until_above(page, 7, 1)
    page.reload()
    thumb.tap(page.get_by_text("Nearest edge", exact=True))
    thumb.button("Where the rows begin")
    page.locator(".plan-lying").wait_for(state="detached")
    first, second = middle(on_plan(page, 1)), middle(on_plan(page, 2))
    assert first[1] > second[1], "the row goes away from who stands at its beginning"
    assert abs(first[0] - second[0]) < 1


def test_arrow_keys_go_from_plant_to_plant(
    phone: Phone, shed: Shed, small: tuple[Page, str, str]
) -> None:
    bare, bed, _ = small
    bare.close()
    page = phone.open(f"/#/bed/{bed}")
    on_plan(page, 1).focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowDown")
    expect(on_plan(page, 8)).to_be_focused()
    page.keyboard.press("Space")
    expect(on_plan(page, 8)).to_be_checked()


def test_two_fingers_and_buttons_zoom_without_drawing_a_plant_anew(
    phone: Phone, shed: Shed
) -> None:
    bare, bed, _ = planted(phone, shed, FIELD, {"length_m": 31, "width_m": 1.6})
    bare.close()
    page = phone.open(f"/#/bed/{bed}")
    expect(page.locator(".plan-plant")).to_have_count(400)
    ground = page.locator(".plan-ground")
    ground.scroll_into_view_if_needed()
    drawing = ground.locator("svg")
    before = drawing.evaluate("(svg) => svg.getBoundingClientRect().width")
    page.evaluate(COUNT_REDRAWN)
    pinch(page, middle(ground), [60.0, 80.0, 100.0, 120.0])
    assert drawing.evaluate("(svg) => svg.getBoundingClientRect().width") == pytest.approx(
        2 * before, rel=0.02
    )
    page.get_by_role("button", name="Smaller").tap()
    page.get_by_role("button", name="Whole bed").tap()
    assert page.evaluate("redrawn") == 0
    inside = ground.evaluate("(one) => one.scrollWidth <= one.clientWidth + 1")
    assert inside, "the whole bed is seen at once"


def test_plants_own_story_has_its_stage_in_words_and_its_entries(
    phone: Phone, shed: Shed, small: tuple[Page, str, str]
) -> None:
    bare, bed, planting = small
    both = {"bed": bed, "planting": planting}
    record(bare, "pick", {"count": 7}, {**both, "plants": [3]})
    record(bare, "pick", {"count": 2}, {**both, "plants": [4]})
    record(bare, "water", {"volume_l": 10}, {"bed": bed})
    bare.close()
    page = phone.open(f"/#/planting/{planting}")
    thumb = Thumb(page)
    thumb.tap(on_plan(page, 3))
    thumb.link("This plant's story")
    expect(title(page)).to_have_text("Plant 3")
    expect(page.get_by_role("main")).to_contain_text("7 fruits picked from it alone")
    story = part(page, "Written of this plant")
    expect(story.locator(".line")).to_have_count(1)
    expect(part(page, "Done to all of them")).to_contain_text("Watered")
    thumb.tap(page.get_by_text("Write down its stage", exact=True))
    thumb.button("61 1 flower or cluster open")
    stage = part(page, "Growth stage")
    expect(stage).to_contain_text("1 flower or cluster open (BBCH 61, seen")
    go(page, f"#/plant/{planting}/13")
    expect(title(page)).to_have_text("Not on this phone")
