"""A phone that changes from one garden to another mixes nothing and drops nothing."""

from __future__ import annotations

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.shed import Shed

SECOND_GARDEN = """
from shedbook.records.gardens import create_garden
from shedbook.records.people import LEAD_LINK_LIFETIME_S, invite
with app.app_context():
    other = create_garden("Other garden", "Pacific/Auckland").id
    print(invite(other, "lead", "Bea", LEAD_LINK_LIFETIME_S).code)
"""


def test_join_of_another_garden_keeps_what_was_not_handed_over_and_says_so(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    make_bed(page)
    sync(page)
    phone.context.clear_cookies()
    left = record(page, "rain", {"depth_mm": 2})
    assert sync(page)["waiting"] == 1

    code = shed.python(SECOND_GARDEN).strip()
    page.evaluate("(code) => actions.join(code, 'Phone')", code)
    assert page.evaluate("garden.state.zone") == "Pacific/Auckland"
    assert page.evaluate("garden.state.beds") == []
    assert page.evaluate("garden.state.waiting") == 0
    assert page.evaluate("garden.store.getAllKeys('entries')") == [left]
    told = page.evaluate("garden.state.notices.map((one) => one.message)")
    assert {"key": "notice.elsewhere", "values": {"count": 1}} in told
    with page.expect_download() as download:
        page.evaluate("actions.exportUnsent()")
    assert left in download.value.path().read_text(encoding="utf-8")
