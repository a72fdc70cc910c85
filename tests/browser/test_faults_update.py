"""A newer version at the shed while entries wait, and a phone's store of an older version."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.phone import OPEN_GARDEN, Phone, make_bed, record
from tests.browser.screens import expect_waiting, go
from tests.browser.shed import Shed
from tests.browser.soundness import acknowledged_on, assert_sound
from tests.browser.test_phone_sync import copied_tree

SCRIPT = "document.querySelector('script[type=module]').getAttribute('src')"
VERSION = re.compile(r"^const VERSION = (\d+);$", re.MULTILINE)
# The store as its first version made it, with what a phone has in it that was never in reach of the
# shed again: the session, two entries that wait, the notebook that numbered them.
MAKE_FIRST_STORE = """async ([session, notebook, entries]) => {
  const opened = indexedDB.open('shedbook', 1);
  opened.onupgradeneeded = () => {
    const all = opened.result.createObjectStore('entries', { keyPath: 'id' });
    all.createIndex('notebook', 'notebook');
    for (const name of ['outbox', 'attention'])
      opened.result.createObjectStore(name, { keyPath: 'id' });
    opened.result.createObjectStore('meta');
  };
  await new Promise((done, fail) => { opened.onsuccess = done; opened.onerror = fail; });
  const tx = opened.result.transaction(['entries', 'outbox', 'meta'], 'readwrite');
  for (const entry of entries) {
    const { id, garden, notebook, number } = entry;
    tx.objectStore('entries').add(entry);
    tx.objectStore('outbox').add({ id, garden, notebook, number });
  }
  const meta = tx.objectStore('meta');
  meta.put(session, 'session');
  meta.put(notebook, 'notebook');
  meta.put([notebook.id], 'notebooks');
  await new Promise((done, fail) => { tx.oncomplete = done; tx.onerror = fail; });
  opened.result.close();
}"""
STORED = """async () => ({
  session: await garden.store.get('meta', 'session'),
  notebook: await garden.store.get('meta', 'notebook'),
  entries: await garden.store.getAll('entries'),
})"""
LOSE_STORE = """async () => {
  garden.store.close();
  const lost = indexedDB.deleteDatabase('shedbook');
  await new Promise((done, fail) => { lost.onsuccess = done; lost.onerror = fail; });
}"""


def test_update_while_entries_wait_is_offered_taken_by_a_tap_and_they_go_over(
    shed: Shed, phone: Phone, tmp_path: Path
) -> None:
    page = phone.open(shed.lead_link())
    expect(page.get_by_role("navigation")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    before = page.evaluate(SCRIPT)
    shed.kill()
    write_rain(page, 4)
    write_rain(page, 6)
    expect_waiting(page, 2)

    version = newer(shed, tmp_path)
    # The shed is there again, but this phone's talk is not: what waits must outlast the update.
    page.context.route("**/sync", lambda route: route.abort())
    shed.start()
    page.reload()
    go(page, "#/phone")
    page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update())")
    update = page.get_by_role("button", name="Use the newer version")
    expect(update).to_be_visible()
    assert page.evaluate(SCRIPT) == before
    write_rain(page, 8)
    go(page, "#/phone")
    with page.expect_navigation():
        update.tap()
    expect(page.get_by_role("navigation")).to_be_visible()
    assert page.evaluate(SCRIPT) != before
    expect_waiting(page, 3)

    page.context.unroute("**/sync")
    hands = phone.garden()
    assert hands.evaluate("garden.store.version") == version
    ids = acknowledged_on(hands)
    assert len(ids) == 3
    log = assert_sound(shed, [hands], ids)
    assert [entry["details"]["depth_mm"] for entry in log] == [4, 6, 8]


def test_store_of_the_first_version_is_taken_over_with_what_waits_in_it(
    shed: Shed, phone: Phone, new_phone: Callable[[], Phone]
) -> None:
    hands = phone.garden(shed.lead_link())
    shed.kill()
    bed = make_bed(hands)
    ids = [bed, record(hands, "water", {"volume_l": 9}, {"bed": bed})]
    stored = hands.evaluate(STORED)
    hands.evaluate(LOSE_STORE)
    hands.evaluate(MAKE_FIRST_STORE, [stored["session"], stored["notebook"], stored["entries"]])
    shed.start()
    hands.evaluate(OPEN_GARDEN)
    assert hands.evaluate("garden.store.version") > 1
    assert hands.evaluate("garden.state.waiting") == 2
    assert hands.evaluate("garden.state.beds.map((bed) => bed.name)") == ["Long bed"]
    ids.append(record(hands, "rain", {"depth_mm": 2}))
    log = assert_sound(shed, [hands, new_phone().garden(shed.helper_link())], ids)
    assert {entry["notebook"] for entry in log} == {stored["notebook"]["id"]}


def test_tab_whose_store_a_newer_page_took_says_so_and_promises_nothing(
    shed: Shed, phone: Phone
) -> None:
    page = phone.open(shed.lead_link())
    expect(page.get_by_role("navigation")).to_be_visible()
    hands = phone.bare()
    hands.evaluate("""async () => {
      const opened = indexedDB.open('shedbook', 1000);
      await new Promise((done, fail) => { opened.onsuccess = done; opened.onerror = fail; });
      opened.result.close();
    }""")
    expect(page.get_by_role("banner")).to_contain_text("Newer version ready")
    go(page, "#/record/rain")
    page.locator("#field-depth_mm").fill("4")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".notices")).to_contain_text("taken over in another tab")
    go(page, "#/phone")
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss()))
    page.get_by_role("button", name="Use the newer version").tap()
    expect(page.get_by_role("banner")).to_contain_text("1 entry not stored")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save what has not gone over").tap()
    assert asked == ["beforeunload"]
    assert '"depth_mm":4' in download.value.path().read_text(encoding="utf-8")


def write_rain(page: Page, depth_mm: int) -> None:
    go(page, "#/record/rain")
    page.locator("#field-depth_mm").fill(str(depth_mm))
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".notices")).to_contain_text(f"{depth_mm} mm")


def newer(shed: Shed, folder: Path) -> int:
    """The next version of the shed, in which phones keep their store under this number."""
    shed.tree = copied_tree(shed.tree, folder / "newer")
    module = shed.tree / "client" / "store" / "open.js"
    text = module.read_text(encoding="utf-8")
    found = VERSION.search(text)
    assert found is not None
    version = int(found[1]) + 1
    module.write_text(VERSION.sub(f"const VERSION = {version};", text), encoding="utf-8")
    return version
