"""Pages for paper: they hold what they promise, fit, and leave out what can only be pressed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.demo import DemoShed
from tests.browser.papers import Paper, pictures_of, print_page, words_of
from tests.browser.screens import DESK, enter, go, part, title

MOMENT = r"\d{1,2} \w{3} \d{4}, \d\d:\d\d"
# A row of the history that begins a day; the time at which it was printed is none.
DAY_AND_TIME = r"(\d{1,2} \w{3} \d{4}), \d\d:\d\d (?=[A-Z])"
MISSING = "not written down"
WHITE, BLACK = 255, 0


@pytest.fixture(scope="module")
def page(browser: Browser, demo_shed: DemoShed) -> Iterator[Page]:
    """A desk that likes it dark: paper must not."""
    page = enter(browser, demo_shed.lead_link(), color_scheme="dark", **DESK)
    yield page
    page.context.close()


def moment(text: str) -> datetime:
    return datetime.strptime(text, "%d %b %Y, %H:%M")  # noqa: DTZ007 - the garden's own wall clock


def test_paper_is_reached_from_the_garden_and_from_the_shed(page: Page) -> None:
    for place in ("#/garden", "#/shed"):
        go(page, place)
        page.get_by_role("link", name="Paper and tags").click()
        expect(title(page)).to_have_text("Paper and tags")


@pytest.mark.poppler
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_week_of_the_demo_fits_on_one_sheet(page: Page, tmp_path: Path, paper: Paper) -> None:
    go(page, "#/paper/round")
    expect(title(page)).to_have_text("The week's round")
    (sheet,) = words_of(print_page(page, tmp_path, paper))
    assert re.search(f"Printed on {MOMENT}, as known on {MOMENT}", sheet)
    assert "This paper knows nothing that was written down later" in sheet
    assert re.search(f"short slicing .cucumber.: No picking before {MOMENT}", sheet)
    assert re.search(f"Stay out until {MOMENT}", sheet)
    assert "How long to wait after" in sheet
    assert "must wait, see above" in sheet
    assert re.search("1 ?/ ?1$", sheet)


@pytest.mark.poppler
def test_week_lists_beds_as_the_round_walks_them(page: Page, tmp_path: Path) -> None:
    go(page, "#/")
    heads = page.locator(".stop-head h2 a").all_inner_texts()
    go(page, "#/paper/round")
    expect(title(page)).to_have_text("The week's round")
    (sheet,) = words_of(print_page(page, tmp_path, "A4"))
    # The order of the words of two columns is the reader's own choice; the numbers tell it.
    told = re.findall(rf"(\d+)\. ({'|'.join(heads)})", sheet)
    assert sorted(told) == [(str(at), name) for at, name in enumerate(heads, 1)]


def test_week_holds_all_work_that_the_round_shows(page: Page) -> None:
    go(page, "#/")
    jobs = page.locator(".work").count()
    go(page, "#/paper/round")
    expect(title(page)).to_have_text("The week's round")
    boxes = page.locator(".week-jobs tbody td .tick").count()
    free = page.locator(".week-jobs").count()
    coming = page.locator(".week-jobs").get_by_text(re.compile("from \\d+ \\w{3}$")).count()
    # What withholds work stands in bold above the boxes, not among them.
    waits = page.locator(".week-wait").count()
    assert waits >= 4
    assert coming > 0
    assert boxes - free - coming >= jobs - waits


@pytest.mark.poppler
def test_paper_is_black_on_white_without_what_can_be_pressed(page: Page, tmp_path: Path) -> None:
    go(page, "#/paper/round")
    expect(title(page)).to_have_text("The week's round")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") != "rgb(255, 255, 255)"
    file = print_page(page, tmp_path, "A4")
    (sheet,) = words_of(file)
    for word in ("PDF", "waiting", "Shed heard", "Phone", "What is this page for?", "←"):
        assert word not in sheet
    (picture,) = pictures_of(file, 60)
    shades = picture.histogram()
    assert picture.getpixel((2, 2)) == WHITE
    assert shades[WHITE] > 0.8 * picture.width * picture.height
    assert shades[BLACK] > 500


@pytest.mark.poppler
def test_history_of_a_bed_repeats_the_heads_of_its_table(
    page: Page, demo_shed: DemoShed, tmp_path: Path
) -> None:
    go(page, f"#/paper/bed?bed={demo_shed.bed('Long bed')}")
    expect(title(page)).to_have_text("History of Long bed")
    sheets = words_of(print_page(page, tmp_path, "A4"))
    assert len(sheets) > 2
    for number, sheet in enumerate(sheets, 1):
        assert re.search(f"{number} ?/ ?{len(sheets)}$", sheet)
        assert "When What For Who" in sheet
    whole = " ".join(sheets)
    assert "2023 tall sugar pod (pea)" in whole
    days = [datetime.strptime(one, "%d %b %Y") for one in re.findall(DAY_AND_TIME, whole)]  # noqa: DTZ007
    assert len(days) > 20
    assert days == sorted(days, reverse=True)


def test_history_shows_photos_when_they_are_asked_for(page: Page, demo_shed: DemoShed) -> None:
    go(page, f"#/paper/bed?bed={demo_shed.bed('Long bed')}")
    page.get_by_role("checkbox", name="With small photos").check()
    expect(page).to_have_url(re.compile("photos=1"))
    page.get_by_role("checkbox", name="With small photos").uncheck()
    expect(page).not_to_have_url(re.compile("photos=1"))


def record_of(page: Page, product: str) -> dict[str, str]:
    """One treatment of the record, by the heads of its table."""
    table = page.get_by_role("table").filter(has_text=product)
    cells = table.locator("tbody th, tbody td").all_inner_texts()
    return dict(zip(cells[::2], cells[1::2], strict=True))


def test_record_tells_what_the_rules_ask_for(page: Page) -> None:
    go(page, "#/paper/treatments")
    told = record_of(page, "demo mildew dust")
    written = re.search(MOMENT, told["Ended"])
    assert written
    end = moment(written.group())
    until = {name: moment(told.pop(name)) - end for name in ("No picking before", "Stay out until")}
    assert until == {"No picking before": timedelta(days=2), "Stay out until": timedelta(hours=48)}
    assert told == {
        "Product": "demo mildew dust",
        "How much in all": "60 g",
        "Registration number": "DEMO-0002",
        "Area": "4.8 m²",
        "Active ingredient": "invented ingredient two",
        "Against": "mildew",
        "Where": "North box: short slicing (cucumber)",
        "Done by": "Joss",
        "Started": MISSING,
        "Ended": told["Ended"],
        "Days to harvest, from the label": "2 days",
        "Hours to re-entry, from the label": "48 hours",
        "Written down by": "Joss",
    }


def test_record_says_what_is_not_written_down(page: Page) -> None:
    go(page, "#/paper/treatments")
    told = record_of(page, "demo caterpillar wash")
    assert told["Days to harvest, from the label"] == MISSING
    assert told["No picking before"] == told["Stay out until"] == "not known"
    expect(page.locator(".paper-notes")).to_contain_text("7 CFR 110.3 and 40 CFR 170.311")
    expect(page.locator(".paper-notes")).to_contain_text("check the law where you grow")


def test_record_holds_the_days_that_are_chosen(page: Page) -> None:
    go(page, "#/paper/treatments")
    tables = page.get_by_role("table")
    expect(tables).not_to_have_count(0)
    page.get_by_label("Until").fill("2020-12-31")
    page.get_by_label("From").fill("2020-01-01")
    expect(page).to_have_url(re.compile("from=2020-01-01&until=2020-12-31"))
    expect(tables).to_have_count(0)
    expect(page.get_by_text("No treatment is written down on these days.")).to_be_visible()


@pytest.mark.poppler
def test_review_is_printed_with_what_is_folded_away(page: Page, tmp_path: Path) -> None:
    go(page, "#/review")
    page.get_by_role("button", name=re.compile("shed", re.IGNORECASE)).click()
    expect(part(page, "Planting by planting").locator("summary").first).to_be_visible()
    assert page.locator("details[open]").count() == 0
    whole = " ".join(words_of(print_page(page, tmp_path, "A4")))
    told = part(page, "Planting by planting").locator("details").count()
    assert told > 3
    assert whole.count("In its place from") == told


def test_button_opens_the_print_dialog(page: Page) -> None:
    go(page, "#/paper/round")
    page.evaluate(
        "void (window.print = () => { globalThis.dialogs = (globalThis.dialogs ?? 0) + 1; })"
    )
    page.get_by_role("button", name="Print").click()
    assert page.evaluate("globalThis.dialogs") == 1
