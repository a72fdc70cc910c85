"""What the shed alone works out: asked for by a tap, kept on the phone with its time."""

from __future__ import annotations

import re

from playwright.sync_api import Browser, expect

from tests.browser.demo import DemoShed
from tests.browser.screens import PHONE, Thumb, enter, go, keep_all, part, title


def test_review_is_worked_out_at_the_shed_and_read_again_without_it(
    browser: Browser, demo_shed: DemoShed
) -> None:
    page = enter(browser, demo_shed.lead_link(), **PHONE)
    thumb = Thumb(page)
    go(page, "#/shed")
    thumb.link("Look back on the season")
    expect(title(page)).to_have_text(re.compile(r"Looking back on \d{4}"))
    main = page.get_by_role("main")
    expect(main).to_contain_text("Ask for it while the shed is in reach")
    page.context.set_offline(True)
    thumb.button("Work it out at the shed")
    expect(main).to_contain_text("The shed did not answer")
    page.context.set_offline(False)
    thumb.button("Work it out at the shed")
    expect(main).to_contain_text("Worked out at the shed", timeout=30_000)
    picked = part(page, "Picked")
    expect(picked.get_by_role("row")).not_to_have_count(1)
    expect(picked).to_contain_text("too few beds")
    expect(main).not_to_contain_text("[")
    keep_all(page)
    page.context.set_offline(True)
    page.reload()
    expect(part(page, "Picked").get_by_role("row")).not_to_have_count(1)
    expect(page.get_by_role("main")).to_contain_text("Worked out at the shed")
    page.context.close()
