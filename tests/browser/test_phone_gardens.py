"""A phone that changes from one garden to another mixes nothing and drops nothing."""

from __future__ import annotations

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.screens import log_at
from tests.browser.shed import Shed
from tests.browser.soundness import assert_sound

NOTEBOOK = "async () => (await garden.store.get('meta', 'notebook')).id"

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
    # The other shed misses nothing of what was numbered for the first.
    here = record(page, "rain", {"depth_mm": 4})
    assert_sound(shed, [page], [here])


def test_join_of_the_same_garden_again_keeps_the_notebook_and_what_waits_in_it(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    ids = [make_bed(page)]
    sync(page)
    phone.context.clear_cookies()
    ids.append(record(page, "rain", {"depth_mm": 2}))
    before = page.evaluate(NOTEBOOK)
    assert sync(page)["sync"]["phase"] == "not_paired"
    page.evaluate("(code) => actions.join(code, 'Phone')", shed.lead_link().rsplit("/", 1)[1])
    ids.append(record(page, "rain", {"depth_mm": 3}))
    assert page.evaluate(NOTEBOOK) == before
    told = sync(page)
    assert (told["waiting"], told["missing"]) == (0, [])
    assert {entry["notebook"] for entry in log_at(page, shed.origin)} == {before}


def test_return_to_the_first_garden_sends_what_waited_for_it_and_leaves_no_gap_in_either(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    first = [make_bed(page)]
    sync(page)
    phone.context.clear_cookies()
    first += [record(page, "rain", {"depth_mm": n}) for n in range(2)]
    page.evaluate("(code) => actions.join(code, 'Phone')", shed.python(SECOND_GARDEN).strip())
    assert_sound(shed, [page], [record(page, "rain", {"depth_mm": 9})])

    page.evaluate("(code) => actions.join(code, 'Phone')", shed.lead_link().rsplit("/", 1)[1])
    first.append(record(page, "rain", {"depth_mm": 5}))
    told = sync(page)
    assert (told["waiting"], told["missing"]) == (0, [])
    log = log_at(page, shed.origin)
    assert sorted(entry["id"] for entry in log) == sorted(first)
    assert page.evaluate("garden.state.devices.map((one) => one.missing)") == [0, 0]
