"""Tags: printed to measure, and opened by the camera or by their code, without a network too."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, Playwright, expect

from tests.browser.cameras import camera_browser, film_a_tag
from tests.browser.demo import DemoShed
from tests.browser.papers import pictures_of, print_page
from tests.browser.screens import PHONE, enter, go, keep_all, title
from tests.node import ask_node

READER = Path(__file__).parents[1] / "twins" / "qr_pictures.mjs"
DPI = 150
A4_MM = {"columns": 3, "left": 0, "top": 0.5, "width": 70, "height": 37, "step": 70}
LETTER_MM = {
    "columns": 3,
    "left": 4.7625,
    "top": 12.7,
    "width": 66.675,
    "height": 25.4,
    "step": 69.85,
}
# Remembers the film that the page got, and what it asked the shed for.
WATCH_CAMERA = """
const media = navigator.mediaDevices;
const ask = media.getUserMedia.bind(media);
media.getUserMedia = async (asked) => (globalThis.film = await ask(asked));
"""
OWN_DETECTOR = """
globalThis.BarcodeDetector = class {
  static getSupportedFormats() { return Promise.resolve(['qr_code']); }
  detect() { return Promise.resolve([{ rawValue: 'LINK' }]); }
};
"""


@pytest.fixture(scope="module")
def page(browser: Browser, demo_shed: DemoShed) -> Iterator[Page]:
    page = enter(browser, demo_shed.lead_link(), **PHONE)
    yield page
    page.context.close()


@pytest.fixture(scope="module")
def code(page: Page) -> str:
    """The code of the long bed."""
    choose(page, beds=["Long bed"])
    return page.locator(".tag-code").inner_text().replace(" ", "")


def choose(page: Page, beds: list[str], planting: str | None = None, size: str = "A4") -> None:
    """Choose tags on a fresh screen: of beds, and of a planting with each of its plants."""
    page.reload()
    go(page, "#/paper/tags")
    expect(title(page)).to_have_text("Tags")
    page.get_by_role("radio", name=size).check()
    for bed in beds:
        page.get_by_role("checkbox", name=bed).check()
    if planting is not None:
        folded = page.locator("details.form-rest").filter(has_text=planting)
        folded.locator("summary").tap()
        folded.get_by_role("checkbox", name="One tag for the whole planting").check()
        folded.get_by_role("button", name="All", exact=True).tap()


def read_pictures(pictures: list[Image.Image]) -> list[str | None]:
    asked = [
        {"width": one.width, "height": one.height, "grey": base64.b64encode(one.tobytes()).decode()}
        for one in pictures
    ]
    told: list[str | None] = ask_node(READER, asked)
    return told


def labels_of(sheet: Image.Image, size: dict[str, float], count: int) -> list[Image.Image]:
    """What lies on each label when the sheet is cut as its measures say."""
    dot = DPI / 25.4
    labels = []
    for at in range(count):
        row, column = divmod(at, int(size["columns"]))
        left = size["left"] + column * size["step"]
        top = size["top"] + row * size["height"]
        edges = (left, top, left + size["width"], top + size["height"])
        labels.append(sheet.crop(tuple(round(edge * dot) for edge in edges)))  # type: ignore[arg-type]
    return labels


@pytest.mark.poppler
@pytest.mark.parametrize(
    ("size", "measures", "labels"), [("A4", A4_MM, 24), ("Letter", LETTER_MM, 30)]
)
def test_each_label_of_a_printed_sheet_leads_to_its_tag(
    page: Page,
    demo_shed: DemoShed,
    tmp_path: Path,
    size: str,
    measures: dict[str, float],
    labels: int,
) -> None:
    choose(page, ["Gate bed", "Long bed"], "long mild red", size)
    codes = [one.replace(" ", "") for one in page.locator(".tag-code").all_inner_texts()]
    assert len(set(codes)) == len(codes) == 27
    sheets = pictures_of(print_page(page, tmp_path), DPI)
    assert len(sheets) == -(-27 // labels)
    read = read_pictures([one for sheet in sheets for one in labels_of(sheet, measures, labels)])
    assert read[:27] == [f"{demo_shed.origin}/#/t/{code}" for code in codes]
    assert set(read[27:]) <= {None}


@pytest.mark.poppler
def test_labels_that_are_used_up_stay_blank(page: Page, tmp_path: Path, code: str) -> None:
    choose(page, ["Long bed"])
    page.get_by_label("Labels already used on the first sheet", exact=True).fill("4")
    (sheet,) = pictures_of(print_page(page, tmp_path), DPI)
    read = read_pictures(labels_of(sheet, A4_MM, 8))
    assert [text and text[-6:] for text in read] == [None] * 4 + [code] + [None] * 3


def test_link_of_a_tag_opens_what_it_hangs_on_and_back_leads_back(
    page: Page, demo_shed: DemoShed, code: str
) -> None:
    go(page, "#/log")
    go(page, f"#/t/{code}")
    expect(title(page)).to_have_text("Long bed")
    page.go_back()
    expect(title(page)).to_have_text("Log")


def test_link_of_a_plants_tag_opens_that_plant(page: Page, demo_shed: DemoShed) -> None:
    choose(page, [], "long mild red")
    plant = page.locator(".tag").filter(has_text="Plant 12,").locator(".tag-code").inner_text()
    go(page, f"#/t/{plant.replace(' ', '')}")
    planting = demo_shed.planting("long mild red")
    expect(page).to_have_url(re.compile(rf"#/plant/{planting}/12$"))


def test_typed_code_opens_in_small_letters_and_with_spaces(page: Page, code: str) -> None:
    go(page, "#/scan")
    page.get_by_label("Code on the tag").fill(f" {code[:3]} {code[3:]} ".lower())
    page.get_by_role("button", name="Open it").tap()
    expect(title(page)).to_have_text("Long bed")


def test_typed_slip_is_told_from_a_code_of_another_garden(page: Page, code: str) -> None:
    go(page, "#/scan")
    field = page.get_by_label("Code on the tag")
    field.fill(code[1] + code[0] + code[2:])
    page.get_by_role("button", name="Open it").tap()
    expect(page.locator("#scan-wrong")).to_contain_text("two have changed places")
    field.fill("ABC")
    page.get_by_role("button", name="Open it").tap()
    expect(page.locator("#scan-wrong")).to_contain_text("six characters")
    # A bed of the unit tests: its check fits, and nothing here has it.
    field.fill("NC4EKR")
    page.get_by_role("button", name="Open it").tap()
    expect(page.locator("main")).to_contain_text(
        "Nothing in the garden Wrenhollow has the code NC4 EKR"
    )


def test_round_leads_to_the_camera_and_without_one_says_so(page: Page) -> None:
    go(page, "#/")
    page.get_by_role("link", name="Scan a tag").tap()
    expect(title(page)).to_have_text("Scan a tag")
    expect(page.get_by_role("status").first).to_contain_text("Type the code")


@pytest.fixture(scope="module")
def film(tmp_path_factory: pytest.TempPathFactory, demo_shed: DemoShed, code: str) -> Path:
    folder = tmp_path_factory.mktemp("film")
    return film_a_tag(folder / "tag.y4m", f"{demo_shed.origin}/#/t/{code}")


def test_camera_opens_the_bed_without_a_network_and_is_off_after_that(
    playwright_driver: Playwright, demo_shed: DemoShed, film: Path
) -> None:
    with camera_browser(playwright_driver, film) as browser:
        page = enter(browser, demo_shed.lead_link(), **PHONE)
        complaints: list[str] = []
        page.on("console", lambda one: complaints.append(one.text) if one.type == "error" else None)
        keep_all(page)
        page.add_init_script(WATCH_CAMERA)
        page.context.set_offline(True)
        page.reload()
        go(page, "#/scan")
        expect(title(page)).to_have_text("Long bed")
        film_is_over = "film.getTracks().every((track) => track.readyState === 'ended')"
        assert page.evaluate(film_is_over)
        assert [one for one in complaints if "ERR_INTERNET_DISCONNECTED" not in one] == []


def test_another_code_before_the_camera_is_told_and_the_look_goes_on(
    playwright_driver: Playwright, demo_shed: DemoShed, tmp_path: Path
) -> None:
    film = film_a_tag(tmp_path / "other.y4m", "https://elsewhere.example/menu")
    with camera_browser(playwright_driver, film) as browser:
        page = enter(browser, demo_shed.lead_link(), **PHONE)
        go(page, "#/scan")
        expect(page.get_by_text("That code is not on a tag of this book")).to_be_visible()
        expect(title(page)).to_have_text("Scan a tag")


def test_camera_that_is_not_allowed_leaves_the_code_to_type(
    playwright_driver: Playwright, demo_shed: DemoShed, film: Path
) -> None:
    with camera_browser(playwright_driver, film, allows=False) as browser:
        page = enter(browser, demo_shed.lead_link(), **PHONE)
        go(page, "#/scan")
        expect(page.get_by_text("does not let this page use the camera")).to_be_visible()
        expect(page.get_by_label("Code on the tag")).to_be_editable()


def test_browser_that_reads_codes_itself_fetches_no_decoder(
    playwright_driver: Playwright, demo_shed: DemoShed, tmp_path: Path, code: str
) -> None:
    blank = film_a_tag(tmp_path / "blank.y4m", "https://elsewhere.example/")
    with camera_browser(playwright_driver, blank) as browser:
        page = enter(browser, demo_shed.lead_link(), service_workers="block", **PHONE)
        page.add_init_script(OWN_DETECTOR.replace("LINK", f"{demo_shed.origin}/#/t/{code}"))
        page.reload()
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        go(page, "#/scan")
        expect(title(page)).to_have_text("Long bed")
        assert any("screens/scan.js" in address for address in asked)
        assert not any("decode.js" in address for address in asked)
