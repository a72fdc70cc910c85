"""Two tabs of one phone: what both send at once is stored once, and a closed tab's is sent."""

from __future__ import annotations

from playwright.sync_api import Page, Route

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.shed import Shed
from tests.browser.soundness import acknowledged_on, assert_sound

WITHOUT_LOCKS = "Object.defineProperty(Navigator.prototype, 'locks', { value: undefined })"
FAILING_LOCKS = """Object.defineProperty(Navigator.prototype, 'locks', { value: {
  request: async (_name, work) => work(),
} })"""
START = "() => { globalThis.talk = garden.loop.now(); }"
MANY = """async () => {
  for (let n = 0; n < 30; n += 1) await garden.record({kind: 'rain', details: {depth_mm: n}});
}"""


def test_two_tabs_without_locks_that_send_the_same_batch_at_once_store_it_once(
    shed: Shed, phone: Phone
) -> None:
    phone.context.add_init_script(WITHOUT_LOCKS)
    one = phone.garden(shed.lead_link())
    two = phone.garden()
    shed.kill()
    make_bed(one)
    one.evaluate(MANY)
    ids = acknowledged_on(one)
    assert len(ids) == 31
    shed.start()

    held: list[Route] = []
    for tab in (one, two):
        tab.route("**/sync", lambda route: held.append(route), times=1)  # noqa: PLW0108
        tab.evaluate(START)
        wait_until_held(tab, held)
    bodies = [route.request.post_data_json for route in held]
    assert [len(body["entries"]) for body in bodies] == [31, 31]
    for route in held:
        route.continue_()
    for tab in (one, two):
        tab.evaluate("async () => { await talk; }")
    assert_sound(shed, [one], ids)
    assert two.evaluate("garden.state.waiting") == 0


def test_entries_of_a_tab_that_was_closed_go_over_from_the_other_without_its_minute(
    shed: Shed, phone: Phone
) -> None:
    writer = phone.garden(shed.lead_link())
    sync(writer)
    other = phone.garden()
    sync(other)
    # A tab that is closed sends nothing any more.
    writer.evaluate("() => garden.loop.stop()")
    written = record(writer, "rain", {"depth_mm": 3})
    with other.expect_response("**/sync", timeout=10_000) as heard:
        writer.close()
    assert heard.value.ok
    assert_sound(shed, [other], [written])


def wait_until_held(tab: Page, held: list[Route]) -> None:
    """Until one more request of this tab's stands at the gate."""
    before = len(held)
    while len(held) == before:
        tab.evaluate("() => new Promise((done) => setTimeout(done, 20))")
