"""The evening's charts say in numbers what they draw: by keyboard, on a phone and on paper."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.demo import DemoShed
from tests.browser.measures import CUT_OFF
from tests.browser.screens import DESK, PHONE, enter, go, part, title

GRAMS_A_POUND = 453.59237
# What three digits leave open.
ROUNDED = 0.006

# The values of a chart as an eye reads them: from the heights of the axis and the words beside it.
READ = """(figure, path) => {
  const number = (text) => Number(text.replace(',', '.'));
  const words = [...figure.querySelectorAll('.chart-tick-words')]
    .map((one) => [Number(one.getAttribute('y')) - 4, number(one.textContent)]);
  const [[y0, v0], [y1, v1]] = [words[0], words[words.length - 1]];
  const value = (y) => v0 + (y - y0) * (v1 - v0) / (y1 - y0);
  if (path === 'bars') return [...figure.querySelectorAll('svg[role=img] .chart-gap')]
    .map((bar) => value(Number(bar.getAttribute('y'))));
  const drawn = figure.querySelector(`svg[role=img] ${path}`).getAttribute('d');
  const heights = [...drawn.matchAll(/V([-\\d.e]+)|[ML][-\\d.e]+ ([-\\d.e]+)/g)];
  return heights.map(([, one, other]) => value(Number(one ?? other)));
}"""
COLUMN = (
    """(table, at) => [...table.tBodies[0].rows].map((row) => row.cells[at].textContent.trim())"""
)
# Everything that a chart paints, as the browser has worked it out.
PAINTS = """() => [...document.querySelectorAll('.chart svg *')].flatMap((one) => {
  const { fill, stroke } = getComputedStyle(one);
  return [fill, stroke].filter((paint) => paint.startsWith('rgb'));
})"""


@pytest.fixture(scope="module", params=[PHONE, DESK], ids=["phone", "desk"])
def window(browser: Browser, demo_shed: DemoShed, request: pytest.FixtureRequest) -> Iterator[Page]:
    page = enter(browser, demo_shed.lead_link(), service_workers="block", **request.param)
    yield page
    page.context.close()


def figure(page: Page, name: str | re.Pattern[str]) -> Locator:
    return page.get_by_role("figure", name=name).first


def column(chart: Locator, at: int, table: int = 0) -> list[str]:
    cells: list[str] = chart.locator("table").nth(table).evaluate(COLUMN, at)
    return cells


def numbers(cells: list[str]) -> list[float]:
    return [float(cell) for cell in cells]


def picks_of(shed: DemoShed, planting: str) -> list[dict[str, Any]]:
    return [
        entry
        for entry in shed.made
        if entry["kind"] == "pick" and entry["subjects"].get("planting") == planting
    ]


def test_picks_of_a_planting_climb_to_what_the_log_holds(window: Page, demo_shed: DemoShed) -> None:
    peppers = demo_shed.planting("early short green")
    go(window, f"#/planting/{peppers}")
    chart = figure(window, re.compile("^Picked so far: early"))
    picks = picks_of(demo_shed, peppers)
    so_far = numbers(column(chart, 3))
    whole = sum(pick["details"]["mass_g"] for pick in picks) / 1000
    assert so_far[-1] == pytest.approx(whole, rel=ROUNDED)
    assert len(so_far) == len({pick["happened_at"][:10] for pick in picks})
    # The first height is the ground that the line starts from.
    drawn = chart.evaluate(READ, ".chart-curve")
    assert drawn[0] == pytest.approx(0, abs=1e-6)
    assert drawn[1:] == pytest.approx(so_far, rel=ROUNDED)
    expect(chart.get_by_role("img")).to_have_accessible_description(
        re.compile(rf"kg from {len(picks)} picks up to \d+ \w+ \d+\.")
    )


def test_picks_for_a_square_metre_are_drawn_where_the_ground_is_known(
    window: Page, demo_shed: DemoShed
) -> None:
    peppers = demo_shed.planting("early short green")
    made = next(one for one in demo_shed.made if one["id"] == peppers)["details"]
    go(window, f"#/evening?planting={peppers}")
    whole = sum(pick["details"]["mass_g"] for pick in picks_of(demo_shed, peppers)) / 1000
    area = made["plants"] * made["in_row_m"] * made["between_rows_m"]
    chart = figure(window, re.compile("^Picked so far from each square metre"))
    assert numbers(column(chart, 3))[-1] == pytest.approx(whole / area, rel=ROUNDED)


def test_water_account_draws_each_day_that_its_table_names(
    window: Page, demo_shed: DemoShed
) -> None:
    go(window, f"#/evening?bed={demo_shed.bed('Wall bed')}")
    chart = figure(window, "Water gone from the soil, day by day")
    gone = numbers(column(chart, 1))
    drawn = chart.evaluate(READ, ".chart-curve:not(.chart-limit)")
    assert drawn == pytest.approx(gone, abs=0.06, rel=ROUNDED)
    may_go = chart.evaluate(READ, ".chart-curve.chart-limit")
    assert may_go == pytest.approx(numbers(column(chart, 2)), abs=0.06, rel=ROUNDED)
    assert len(gone) > 14


def test_gaps_stand_over_the_fruit_lost_on_the_same_days(window: Page, demo_shed: DemoShed) -> None:
    go(window, f"#/evening?bed={demo_shed.bed('Wall bed')}")
    chart = figure(window, "Gaps between waterings, Wall bed")
    said = column(chart, 2)
    hours = [days_of(words) for words in said]
    assert chart.evaluate(READ, "bars") == pytest.approx(hours, abs=0.06)
    expect(chart.locator("[role=img] .chart-gap[fill^=url]")).to_have_count(1)
    lost = sum(
        entry["details"].get("count", 0)
        for entry in demo_shed.made
        if entry["kind"] == "discard" and entry["subjects"].get("bed") == demo_shed.bed("Wall bed")
    )
    assert sum(numbers(column(chart, 2, table=1))) == lost > 0
    expect(chart.get_by_role("img")).to_have_accessible_description(
        re.compile(rf"Thrown out in that time: {lost} fruits\.")
    )


def days_of(said: str) -> float:
    """ "20 hours" and "3 days" as days."""
    amount, unit = said.split()
    return float(amount) / 24 if unit.startswith("hour") else float(amount)


def test_rotation_begins_with_the_newest_year_and_names_each_family_by_letter(
    window: Page,
) -> None:
    go(window, "#/evening")
    chart = figure(window, "Which family stood in which bed")
    years = chart.locator("[role=img] > .chart-words.chart-mid").all_text_contents()
    assert years == sorted(years, reverse=True)
    family = chart.locator(".chart-key li").filter(has_text=" family")
    letters = set(family.locator("text").all_text_contents())
    drawn = set(chart.locator("[role=img] .chart-letter").all_text_contents())
    assert drawn <= letters
    assert len(letters) > 3
    heads = chart.locator("table thead th").all_text_contents()[1:]
    assert [head.strip() for head in heads] == sorted(heads, reverse=True)


def test_every_chart_has_name_sentence_and_table_and_opens_by_keyboard(
    window: Page, demo_shed: DemoShed
) -> None:
    seen = 0
    for query in ("", f"?bed={demo_shed.bed('Wall bed')}", f"?bed={demo_shed.bed('Gate bed')}"):
        go(window, f"#/evening{query}")
        expect(title(window)).to_contain_text("pictures")
        for chart in window.get_by_role("figure").all():
            drawing = chart.get_by_role("img")
            expect(drawing).to_have_accessible_name(re.compile(r"\w"))
            expect(drawing).to_have_accessible_description(re.compile(r"\w.*\."))
            fold = chart.locator("details")
            # A fold stays open on the way from one bed to the next.
            if fold.get_attribute("open") is None:
                fold.locator("summary").focus()
                window.keyboard.press("Enter")
            expect(chart.locator("details table").first).to_be_visible()
            assert not {"[", "{"} & set(chart.inner_text()), chart.inner_text()
            seen += 1
        # The tables are open now: they scroll in their own boxes, the page does not.
        assert not window.evaluate(CUT_OFF)
    assert seen >= 8


def test_charts_speak_in_the_units_of_the_person(window: Page, demo_shed: DemoShed) -> None:
    peppers = demo_shed.planting("early short green")
    whole = sum(pick["details"]["mass_g"] for pick in picks_of(demo_shed, peppers))
    go(window, "#/phone")
    window.get_by_role("radio", name="US").check()
    go(window, f"#/evening?planting={peppers}")
    chart = figure(window, re.compile("^Picked so far: early"))
    expect(chart.locator("[role=img] text").first).to_have_text("Picked, lb")
    so_far = numbers(column(chart, 3))
    assert so_far[-1] == pytest.approx(whole / GRAMS_A_POUND, rel=ROUNDED)
    assert chart.evaluate(READ, ".chart-curve")[1:] == pytest.approx(so_far, rel=ROUNDED)
    air = figure(window, re.compile("^Days and nights"))
    expect(air.locator("[role=img] text").first).to_have_text("Air, °F")
    assert air.evaluate(READ, ".chart-low.chart-measured")[0] > 45
    go(window, "#/phone")
    window.get_by_role("radio", name="Metric").check()


def test_charts_print_in_black_and_white_with_the_tables_that_were_opened(
    window: Page, demo_shed: DemoShed
) -> None:
    go(window, f"#/evening?bed={demo_shed.bed('Wall bed')}")
    window.emulate_media(media="print", color_scheme="dark")
    charts = window.get_by_role("figure")
    expect(charts.first.get_by_role("img")).to_be_visible()
    expect(charts.first.locator(".chart-key")).to_be_visible()
    expect(charts.first.locator("table")).to_be_hidden()
    paints = [re.findall(r"\d+", paint)[:3] for paint in window.evaluate(PAINTS)]
    assert paints
    assert {len(set(paint)) for paint in paints} == {1}
    window.emulate_media(media="screen", color_scheme="light")
    charts.first.locator("summary").click()
    window.emulate_media(media="print")
    expect(charts.first.locator("table")).to_be_visible()
    window.emulate_media(media="screen")


def test_the_pictures_are_reached_from_the_shed_a_bed_and_a_planting(
    window: Page, demo_shed: DemoShed
) -> None:
    bed, peppers = demo_shed.bed("Gate bed"), demo_shed.planting("early short green")
    for address, heading in (
        ("#/shed", "The season in pictures"),
        ("#/garden", "The season in pictures"),
        (f"#/bed/{bed}", "In pictures: Gate bed"),
        (f"#/planting/{peppers}", "In pictures: early short green (pepper)"),
    ):
        go(window, address)
        window.get_by_role("link", name="The season in pictures").click()
        expect(title(window)).to_have_text(heading)
    go(window, "#/evening")
    part(window, "Bed by bed").get_by_role("link", name="Wall bed").click()
    expect(title(window)).to_have_text("In pictures: Wall bed")
