"""Next season on the demo garden: wishes, the shed's proposal, and what a bed's page says of it."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.demo import DemoShed
from tests.browser.screens import PHONE, Thumb, enter, expect_told, go, part, title


@pytest.fixture(scope="module")
def window(browser: Browser, demo_shed: DemoShed) -> Iterator[Page]:
    page = enter(browser, demo_shed.lead_link(), **PHONE)
    yield page
    page.context.close()


def test_proposal_gives_each_wish_a_bed_or_a_reason(window: Page, demo_shed: DemoShed) -> None:
    thumb = Thumb(window)
    go(window, "#/next-season")
    expect(title(window)).to_have_text(re.compile(r"Proposal for \d{4}"))
    wished = [entry["details"] for entry in demo_shed.made if entry["kind"] == "wish"]
    expect(part(window, "Wishes").get_by_role("listitem")).to_have_count(len(wished))
    thumb.button("Work out the proposal")
    beds = part(window, "Beds")
    expect(beds).to_be_visible(timeout=30_000)
    main = window.get_by_role("main")
    expect(main).to_contain_text(re.compile(r"All conflicts together weigh"))
    told = beds.inner_text() + "".join(part(window, "Without a bed").all_inner_texts())
    for wish in wished:
        assert f"{wish['crop']}" in told
    expect(main).not_to_contain_text("[")


def test_bed_page_ranks_what_may_follow_when_it_is_asked(window: Page, demo_shed: DemoShed) -> None:
    go(window, f"#/bed/{demo_shed.bed('Long bed')}")
    follow = part(window, "What may follow here")
    expect(follow.locator("ol > li")).to_have_count(0)
    follow.get_by_text("Show what may follow").tap()
    expect(follow.locator("ol > li")).to_have_count(12)
    expect(follow).to_contain_text("Weights only rank")
    follow.get_by_role("button", name="All crops in the rule book").tap()
    expect(follow).to_contain_text("Rest after a trouble of the soil")
    expect(follow).not_to_contain_text("[")


def test_place_in_the_soil_is_marked_on_the_plan_and_told_in_words(
    window: Page, demo_shed: DemoShed
) -> None:
    go(window, f"#/bed/{demo_shed.bed('Long bed')}")
    mark = window.get_by_role("img", name=re.compile("^Seen since .*: Verticillium wilt"))
    expect(mark).to_have_count(1)
    soil = part(window, "Troubles in the soil")
    expect(soil).to_contain_text(re.compile("Since .*: Verticillium wilt"))
    wilt = soil.get_by_role("listitem").filter(has_text="Verticillium")
    wilt.get_by_role("link", name="Why?").tap()
    main = window.get_by_role("main")
    expect(main).to_contain_text("University of Connecticut")
    expect(main).to_contain_text("It stays on this page")


def test_mark_a_place_offers_the_troubles_by_name(window: Page, demo_shed: DemoShed) -> None:
    thumb = Thumb(window)
    go(window, f"#/bed/{demo_shed.bed('Herb box')}")
    thumb.link("Mark a place")
    window.get_by_role("combobox", name=re.compile("^Trouble")).select_option(label="Clubroot")
    thumb.button("Write it down")
    expect_told(window, "Clubroot")
    go(window, f"#/bed/{demo_shed.bed('Herb box')}")
    expect(part(window, "Troubles in the soil")).to_contain_text("Clubroot")
