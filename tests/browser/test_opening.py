"""Opening the page: the round is there before the rules have run, and a long one comes in turns."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.phone import Phone, make_bed, record
from tests.browser.shed import Shed

MANY_BEDS = 30
NOTHING = "Nothing is late, due or held back."
# Every title, every text under it, and every number of stops, from the first drawing on.
WATCH = """
globalThis.shown = { titles: [], tallies: [], counts: [] };
const note = (list, value) => { if (list.at(-1) !== value) list.push(value); };
new MutationObserver(() => {
  note(shown.titles, document.querySelector('main h1')?.textContent.trim());
  const tally = document.querySelector('.round-tally');
  if (tally) note(shown.tallies, tally.textContent.replace(/\\s+/g, ' ').trim());
  const count = document.querySelectorAll('main .stop').length;
  if (count) note(shown.counts, count);
}).observe(document, { childList: true, subtree: true, characterData: true });
"""
# Resolves when findings of so many subjects are kept.
KEPT = """async (subjects) => {
  for (;;) {
    const kept = await garden.store.get('meta', 'findings');
    if (kept?.told.length >= subjects) return;
    await new Promise((again) => setTimeout(again, 20));
  }
}"""
# As if the rules had found nothing when they ran last.
EMPTY_WHAT_IS_KEPT = """async () => {
  const kept = await garden.store.get('meta', 'findings');
  await garden.store.put('meta', { ...kept, told: [] }, 'findings');
}"""
# As if a finding of the last bed were one that no screen can tell.
SPOIL_THE_LAST = """async () => {
  const kept = await garden.store.get('meta', 'findings');
  const bed = garden.state.beds.at(-1).id;
  const odd = {
    key: 'odd', rule: 'water_gap', state: 'due', subject: { bed, plants: 5 }, opens: null,
    due: null, closes: null, from: null, until: null, entries: [], settles: 5, reasons: [],
    message: { key: 'odd', values: { plants: 5 } },
  };
  await garden.store.put('meta', { ...kept, told: [[`bed:${bed}`, [odd]]] }, 'findings');
}"""
PLANT = "async (bed) => (await actions.makePlanting({crop: 'pepper', plants: 6}, bed)).id"


def planted(phone: Phone, shed: Shed) -> tuple[Page, str]:
    """A bare tab whose one bed holds peppers that went out long ago, and the bed."""
    bare = phone.garden(shed.lead_link())
    bed = make_bed(bare)
    planting = bare.evaluate(PLANT, bed)
    put_out = """async (subjects) => void await garden.record(
      {kind: 'transplant', details: {}, subjects, happened_at: '2026-04-10T10:00:00+00:00'})"""
    bare.evaluate(put_out, {"bed": bed, "planting": planting})
    return bare, bed


def test_what_was_found_last_is_shown_at_once_and_gives_way_to_what_is_found_now(
    phone: Phone, shed: Shed
) -> None:
    bare, _ = planted(phone, shed)
    bare.evaluate(KEPT, 2)
    bare.evaluate(EMPTY_WHAT_IS_KEPT)
    bare.close()
    phone.context.add_init_script(WATCH)
    page = phone.open("/")
    expect(page.locator(".work-list li").first).to_be_visible()
    first, last = page.evaluate("[shown.tallies.at(0), shown.tallies.at(-1)]")
    assert NOTHING in first
    assert NOTHING not in last


def test_what_was_found_before_another_entry_came_is_not_shown(phone: Phone, shed: Shed) -> None:
    bare, bed = planted(phone, shed)
    bare.evaluate(KEPT, 2)
    bare.evaluate(EMPTY_WHAT_IS_KEPT)
    bare.evaluate("garden.changed = () => undefined")
    record(bare, "note", {"text": "Dew until nine."}, {"bed": bed})
    bare.close()
    phone.context.add_init_script(WATCH)
    page = phone.open("/")
    expect(page.locator(".work-list li").first).to_be_visible()
    assert not any(NOTHING in tally for tally in page.evaluate("shown.tallies"))


def many_beds(phone: Phone, shed: Shed) -> Page:
    bare = phone.garden(shed.lead_link())
    make_all = """async (count) => {
      for (let n = 1; n <= count; n += 1) await actions.makeBed({name: `Bed ${n}`});
    }"""
    bare.evaluate(make_all, MANY_BEDS)
    return bare


def test_a_stop_that_cannot_be_drawn_in_its_turn_is_told_and_drawn_once_it_can_be(
    phone: Phone, shed: Shed
) -> None:
    bare = many_beds(phone, shed)
    bare.evaluate(KEPT, MANY_BEDS)
    bare.evaluate(SPOIL_THE_LAST)
    bare.close()
    phone.context.add_init_script(WATCH)
    page = phone.open("/")
    expect(page.locator("main .stop")).to_have_count(MANY_BEDS)
    assert page.evaluate("shown.titles") == ["Round", "This screen can't be drawn", "Round"]


def test_a_long_round_begins_with_what_fits_the_screen_and_comes_whole_by_itself(
    phone: Phone, shed: Shed
) -> None:
    many_beds(phone, shed).close()
    phone.context.add_init_script(WATCH)
    page = phone.open("/")
    stops = page.locator("main .stop")
    expect(stops).to_have_count(MANY_BEDS)
    counts = page.evaluate("shown.counts")
    assert counts[0] < MANY_BEDS
    assert counts == sorted(counts)
    tall = "() => document.querySelectorAll('main .stop')[%d].getBoundingClientRect().bottom"
    assert page.evaluate(tall % (counts[0] - 1)) > page.evaluate("innerHeight")
    assert stops.locator(".stop-number").all_inner_texts() == [
        str(number) for number in range(1, MANY_BEDS + 1)
    ]
    stops.last.get_by_role("link", name="Bed 30", exact=True).tap()
    page.go_back()
    expect(stops).to_have_count(MANY_BEDS)


def test_what_another_tab_writes_down_shows_at_the_last_stop_of_a_long_round(
    phone: Phone, shed: Shed
) -> None:
    bare = many_beds(phone, shed)
    page = phone.open("/")
    last = page.locator("main .stop").nth(MANY_BEDS - 1)
    again = last.get_by_role("button", name="Water 12 L, Bed 30", exact=True)
    expect(last).to_be_visible()
    expect(again).to_have_count(0)
    bed = bare.evaluate("garden.state.beds.at(-1).id")
    record(bare, "water", {"volume_l": 12}, {"bed": bed})
    expect(again).to_be_visible()
