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

    # Either tab may talk of itself at any time: the gates stand before there is a shed to reach.
    gates = [hold_next(tab) for tab in (one, two)]
    shed.start()
    for tab, held in zip((one, two), gates, strict=True):
        tab.evaluate(START)
        wait_until_held(tab, held)
    bodies = [held[0].request.post_data_json for held in gates]
    assert [len(body["entries"]) for body in bodies] == [31, 31]
    for held in gates:
        held[0].continue_()
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


def hold_next(tab: Page) -> list[Route]:
    """A gate before the shed, at which the tab's next request will stand."""
    held: list[Route] = []
    tab.route("**/sync", lambda route: held.append(route), times=1)  # noqa: PLW0108
    return held


def wait_until_held(tab: Page, held: list[Route]) -> None:
    while not held:
        tab.evaluate("() => new Promise((done) => setTimeout(done, 20))")
