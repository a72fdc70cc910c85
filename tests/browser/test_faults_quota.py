"""The browser gives no more room: told, nothing half-written, and in once there is room again."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.phone import OPEN_GARDEN, Phone, make_bed, record, sync
from tests.browser.screens import Thumb, expect_told, expect_waiting, go
from tests.browser.shed import Shed
from tests.browser.soundness import acknowledged_on, assert_sound

# Room for nothing: what the browser's own developers' tools offer for this very case.
NO_ROOM = 1
TRY = """() => garden.record({kind: 'note', details: {text: 'x'.repeat(1000)}})
  .then(() => 'written', (error) => error.name)"""
# The browser throws at the write with this place in the transaction.
REFUSE_WRITE = """(place) => {
  const real = {add: IDBObjectStore.prototype.add, put: IDBObjectStore.prototype.put};
  globalThis.giveRoom = () => Object.assign(IDBObjectStore.prototype, real);
  let writes = 0;
  for (const name of ['add', 'put']) IDBObjectStore.prototype[name] = function (...given) {
    writes += 1;
    if (writes >= place) throw new DOMException('no space', 'QuotaExceededError');
    return real[name].apply(this, given);
  };
}"""
GIVE_ROOM = "() => giveRoom()"
STORED = """async () => ({
  entries: (await garden.store.getAllKeys('entries')).length,
  outbox: (await garden.store.getAllKeys('outbox')).length,
  number: (await garden.store.get('meta', 'notebook')).number,
})"""


def test_entry_that_the_browsers_own_quota_refuses_is_told_and_goes_in_when_there_is_room(
    shed: Shed, phone: Phone
) -> None:
    first = phone.garden(shed.lead_link())
    bed = make_bed(first)
    sync(first)
    # The browser gives an origin room in advance: only one that was started anew asks for it.
    phone.close()
    page = phone.bare()
    set_quota(phone, page, shed, NO_ROOM)
    page.evaluate(OPEN_GARDEN)
    shed.kill()
    before = page.evaluate(STORED)
    assert page.evaluate(TRY) == "NotSaved"
    assert page.evaluate(STORED) == before
    assert page.evaluate("garden.state.unsaved") == 1
    told = page.evaluate("garden.state.notices.map((one) => one.message.key)")
    assert told == ["error.not_saved"]

    set_quota(phone, page, shed, None)
    later = record(page, "water", {"volume_l": 5}, {"bed": bed})
    assert page.evaluate("garden.state.unsaved") == 0
    ids = acknowledged_on(page)
    assert len(ids) == 3
    assert later in ids
    shed.start()
    assert_sound(shed, [page], ids)


@pytest.mark.parametrize("place", [1, 2, 3])
def test_entry_whose_writing_is_refused_half_way_is_not_half_written(
    shed: Shed, phone: Phone, place: int
) -> None:
    page = phone.garden(shed.lead_link())
    make_bed(page)
    before = page.evaluate(STORED)
    page.evaluate(REFUSE_WRITE, place)
    assert page.evaluate(TRY) == "NotSaved"
    page.evaluate(GIVE_ROOM)
    stored = page.evaluate(STORED)
    assert (stored["entries"], stored["number"]) == (before["entries"], before["number"])
    record(page, "rain", {"depth_mm": 3})
    ids = acknowledged_on(page)
    assert len(ids) == 3
    assert_sound(shed, [page], ids)


def test_button_tapped_again_after_a_refusal_writes_once(shed: Shed, phone: Phone) -> None:
    hands = phone.garden(shed.lead_link())
    bed = make_bed(hands)
    sync(hands)
    hands.close()
    page = phone.open(f"/#/bed/{bed}")
    thumb = Thumb(page)
    expect(page.get_by_role("button", name="20 L: Water Long bed")).to_be_visible()
    shed.kill()
    page.evaluate(REFUSE_WRITE, 1)
    for _ in range(2):
        thumb.button("20 L: Water Long bed")
        expect_told(page, "storage refused the entry")
        expect(page.get_by_role("banner")).to_contain_text("1 entry not stored")
    thumb.button("10 L: Water Long bed")
    expect(page.get_by_role("banner")).to_contain_text("2 entries not stored")
    page.evaluate(GIVE_ROOM)
    thumb.button("20 L: Water Long bed")
    expect_told(page, "Watered: Long bed, 20 L")
    expect_waiting(page, 2)
    expect(page.get_by_role("banner")).not_to_contain_text("not stored")
    thumb.button("20 L: Water Long bed")
    expect_waiting(page, 3)
    page.close()

    shed.start()
    again = phone.garden()
    log = assert_sound(shed, [again], acknowledged_on(again))
    assert len(log) == 4
    litres = [entry["details"]["volume_l"] for entry in log if entry["kind"] == "water"]
    assert sorted(litres) == [10, 20, 20]


def test_page_of_the_log_that_finds_no_room_is_told_and_comes_in_later(
    shed: Shed, phone: Phone
) -> None:
    writer = phone.garden(shed.lead_link())
    ids = [make_bed(writer), record(writer, "note", {"text": "x" * 2000})]
    sync(writer)
    page = phone.open()
    expect_waiting(page, 0)
    page.evaluate(REFUSE_WRITE, 1)
    ids.append(record(writer, "rain", {"depth_mm": 4}))
    sync(writer)
    go(page, "#/phone")
    page.get_by_role("button", name="Talk to the shed now").tap()
    expect(page.get_by_role("main")).to_contain_text("no room")
    page.evaluate(GIVE_ROOM)
    page.get_by_role("button", name="Talk to the shed now").tap()
    expect(page.get_by_role("main")).not_to_contain_text("no room")
    assert_sound(shed, [writer], ids)


def set_quota(phone: Phone, page: Page, shed: Shed, size: int | None) -> None:
    """Let the browser give the shed's origin so many bytes; None: as many as it likes."""
    tools = phone.context.new_cdp_session(page)
    given = {} if size is None else {"quotaSize": size}
    tools.send("Storage.overrideQuotaForOrigin", {"origin": shed.origin, **given})
