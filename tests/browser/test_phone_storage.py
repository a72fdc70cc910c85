"""What the phone has acknowledged is on the phone, whatever happens to browser, tab or shed."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.phone import Phone, make_bed, record
from tests.browser.shed import Shed

# Every entry of the store by number, with what waits.
READ_STORE = """async () => {
  const entries = await garden.store.getAll('entries');
  entries.sort((a, b) => a.number - b.number);
  return {
    numbers: entries.map((entry) => entry.number),
    ids: entries.map((entry) => entry.id),
    waiting: (await garden.store.getAllKeys('outbox')).length,
  };
}"""
REFUSE_WRITES = """() => {
  globalThis.realAdd = IDBObjectStore.prototype.add;
  IDBObjectStore.prototype.add = function () {
    this.transaction.abort();
    throw new DOMException('no space', 'QuotaExceededError');
  };
}"""


def test_record_when_the_browser_is_killed_right_after_is_there_again(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    shed.kill()
    bed = make_bed(page)
    water = record(page, "water", {"volume_l": 20}, {"bed": bed})
    phone.kill()

    shed.start()
    again = phone.garden()
    stored = again.evaluate(READ_STORE)
    assert stored["ids"] == [bed, water]
    assert stored["numbers"] == [1, 2]
    assert again.evaluate("(id) => garden.state.look.event(id).details.volume_l", water) == 20
    later = record(again, "rain", {"depth_mm": 4})
    assert again.evaluate(READ_STORE)["ids"] == [bed, water, later]
    assert again.evaluate(READ_STORE)["numbers"] == [1, 2, 3]


def test_record_in_two_tabs_at_once_numbers_without_gap_and_shows_in_both(
    shed: Shed, phone: Phone
) -> None:
    link = shed.lead_link()
    tabs = [phone.garden(link), phone.garden()]
    shed.kill()
    many = """async () => { globalThis.done = Promise.all(Array.from({length: 15}, (_, n) =>
      garden.record({kind: 'rain', details: {depth_mm: n}}))); }"""
    for tab in tabs:
        tab.evaluate(many)
    for tab in tabs:
        tab.evaluate("async () => { await done; }")
    assert tabs[0].evaluate(READ_STORE)["numbers"] == list(range(1, 31))
    for tab in tabs:
        seen = """async () => {
          for (let n = 0; n < 100 && garden.state.look.events().length < 30; n += 1)
            await new Promise((done) => setTimeout(done, 50));
          return garden.state.look.events().length;
        }"""
        assert tab.evaluate(seen) == 30


def test_record_when_storage_refuses_is_told_kept_and_stored_later(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    page.evaluate(REFUSE_WRITES)
    failed = """() => garden.record({kind: 'rain', details: {depth_mm: 7}})
      .then(() => 'resolved', (error) => error.name)"""
    assert page.evaluate(failed) == "NotSaved"
    assert page.evaluate("garden.state.unsaved") == 1
    told = page.evaluate("garden.state.notices.map((one) => [one.tone, one.message.key])")
    assert told == [["trouble", "error.not_saved"]]
    with page.expect_download() as download:
        page.evaluate("actions.exportUnsent()")
    assert '"depth_mm":7' in download.value.path().read_text(encoding="utf-8")

    page.evaluate("() => { IDBObjectStore.prototype.add = realAdd; }")
    record(page, "rain", {"depth_mm": 8})
    assert page.evaluate("garden.state.unsaved") == 0
    depths = "garden.state.look.events().map((event) => event.details.depth_mm).sort()"
    assert page.evaluate(depths) == [7, 8]


def test_page_when_the_shed_is_down_opens_from_the_phone(shed: Shed, phone: Phone) -> None:
    page = phone.open(shed.lead_link())
    expect(page.locator("nav")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    shed.kill()

    page.reload()
    expect(page.locator("nav")).to_be_visible()
    phone.close()
    cold = phone.open()
    expect(cold.locator("nav")).to_be_visible()
    assert cold.evaluate("caches.keys()") != []
    kept = cold.evaluate("""async () => {
      const names = await caches.keys();
      const all = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
      return all.flat().map((request) => new URL(request.url).pathname);
    }""")
    assert "/" in kept
    assert not [path for path in kept if path.startswith("/api")]


def test_join_link_when_opened_is_taken_out_of_the_address_bar(shed: Shed, phone: Phone) -> None:
    link = shed.helper_link()
    page = phone.open(link)
    expect(page.locator("nav")).to_be_visible()
    code = link.rsplit("/", 1)[1]
    assert code not in page.url
    page.go_back()
    assert code not in page.url
