"""Phones whose clocks are an hour wrong: told, taken in, and in one order everywhere."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.shed import Shed
from tests.browser.soundness import assert_sound

HOUR_MS = 3_600_000
RENAME = """async ([bed, name]) =>
  (await garden.record({kind: 'bed', subjects: {bed}, details: {name}})).id"""
NAMES = "garden.state.beds.map((bed) => bed.name)"


@pytest.mark.parametrize(
    ("off_ms", "words"), [(HOUR_MS, "60 minutes ahead of"), (-HOUR_MS, "60 minutes behind")]
)
def test_phone_an_hour_off_is_told_on_whatever_screen_it_shows(
    shed: Shed, phone: Phone, off_ms: int, words: str
) -> None:
    phone.clock_off_ms = off_ms
    page = phone.open(shed.helper_link())
    expect(page.locator(".notices")).to_contain_text(words)
    page.goto(f"{shed.origin}/#/phone")
    expect(page.get_by_role("main")).to_contain_text(words)


def test_entries_of_phones_an_hour_ahead_and_behind_come_in_and_keep_one_order(
    shed: Shed, new_phone: Callable[[], Phone]
) -> None:
    phones = [new_phone() for _ in range(3)]
    ahead, behind, right = phones
    ahead.clock_off_ms, behind.clock_off_ms = HOUR_MS, -HOUR_MS
    one = ahead.garden(shed.lead_link())
    two = behind.garden(shed.lead_link())
    three = right.garden(shed.lead_link())
    bed = make_bed(one, "made ahead")
    ids = [bed]
    sync(one)
    # Each has seen the name before, so each one's own is the later one, whatever its clock says.
    for page, name in ((two, "named behind"), (three, "named right"), (one, "named ahead")):
        sync(page)
        ids.append(page.evaluate(RENAME, [bed, name]))
        ids.append(record(page, "water", {"volume_l": len(ids)}, {"bed": bed}))
        assert page.evaluate(NAMES) == [name]
        sync(page)

    log = assert_sound(shed, [one, two, three], ids)
    assert [page.evaluate(NAMES) for page in (one, two, three)] == [["named ahead"]] * 3
    names = [entry for entry in log if entry["kind"] == "bed"]
    assert sorted(names, key=lambda entry: (entry["order"], entry["id"])) == names


def test_two_phones_with_clocks_two_hours_apart_write_apart_and_agree(
    shed: Shed, new_phone: Callable[[], Phone]
) -> None:
    fast, slow = new_phone(), new_phone()
    fast.clock_off_ms, slow.clock_off_ms = HOUR_MS, -HOUR_MS
    one, two = fast.garden(shed.lead_link()), slow.garden(shed.helper_link())
    bed = make_bed(one)
    sync(one)
    sync(two)
    shed.kill()
    ids = [bed]
    for page, name in ((one, "fast"), (two, "slow")):
        ids.append(page.evaluate(RENAME, [bed, name]))
        ids += [record(page, "rain", {"depth_mm": len(ids) + n}) for n in range(3)]
    shed.start()
    log = assert_sound(shed, [one, two], ids)
    last = max((e for e in log if e["kind"] == "bed"), key=lambda e: (e["order"], e["id"]))
    assert one.evaluate(NAMES) == two.evaluate(NAMES) == [last["details"]["name"]]
