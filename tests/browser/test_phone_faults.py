"""What goes wrong on a phone is seen there, and takes nothing else with it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import expect

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.shed import Shed
from tests.browser.test_phone_storage import REFUSE_WRITES

POISON = """async (change) => {
  const all = await garden.store.getAll('entries');
  const entry = {...all.at(-1), id: '00000000-0000-7000-8000-0000000000aa', ...change};
  await garden.store.put('entries', entry);
}"""
POISONS: list[dict[str, Any]] = [
    {"happened_at": "yesterday"},
    {"kind": "zap", "subjects": {"plants": 5}},
    {"kind": "void", "details": None},
    {"kind": "bed", "subjects": None, "details": {"beside": 5}},
]
HOLD = """async (id) => {
  const row = await garden.store.get('outbox', id);
  await garden.store.put('outbox', {...row, held: true});
  await garden.store.put('attention', {id, result: 'failed', hint: 'too_large', at_ms: 1});
}"""
NAME_OF_ERROR = "(work) => work().then(() => 'resolved', (error) => error.name)"


def refused(call: str) -> str:
    """A script for the name of the error with which a call of the garden's ends."""
    return f"() => ({NAME_OF_ERROR})(() => {call})"


def test_phone_with_entries_that_no_ledger_reads_opens_shows_them_and_syncs(
    shed: Shed, phone: Phone
) -> None:
    bare = phone.garden(shed.lead_link())
    make_bed(bare)
    record(bare, "rain", {"depth_mm": 3})
    sync(bare)
    for at, change in enumerate(POISONS):
        bare.evaluate(POISON, {**change, "id": f"00000000-0000-7000-8000-0000000000a{at}"})
    bare.close()

    page = phone.open()
    expect(page.get_by_role("link", name="Long bed").first).to_be_visible()
    page.locator("header .is-loud").tap()
    expect(page.get_by_text("could not read it into the log")).to_have_count(4)
    with page.expect_download() as download:
        page.locator(".marked button").first.tap()
    assert "00000000-0000-7000-8000-0000000000a" in download.value.path().read_text("utf-8")

    again = phone.garden()
    written = record(again, "rain", {"depth_mm": 9})
    assert sync(again)["sync"]["phase"] == "idle"
    assert again.evaluate("garden.state.waiting") == 0
    assert again.evaluate("(id) => garden.state.look.event(id) !== undefined", written)


def test_screen_that_cannot_be_drawn_leaves_the_others_and_the_sync(
    shed: Shed, phone: Phone
) -> None:
    bare = phone.garden(shed.lead_link())
    rain = record(bare, "rain", {"depth_mm": 3})
    sync(bare)
    odd = {"recorded_at": "yesterday", "id": "00000000-0000-7000-8000-0000000000aa"}
    bare.evaluate(POISON, odd)
    bare.close()

    page = phone.open(f"/#/entry/{odd['id']}")
    expect(page.get_by_role("heading", name="This screen can't be drawn")).to_be_visible()
    page.get_by_role("button", name="Talk to the shed now").tap()
    page.goto(f"{shed.origin}/#/entry/{rain}")
    expect(page.get_by_role("heading", name="How it was written")).to_be_visible()
    expect(page.get_by_role("navigation")).to_be_visible()


def test_helper_can_neither_lift_nor_change_a_treatment_and_is_told_whom_to_ask(
    shed: Shed, phone: Phone
) -> None:
    bare = phone.garden(shed.helper_link())
    bed = make_bed(bare)
    details = {"method": "product", "days_to_harvest": 14, "hours_to_reentry": 48}
    treat = record(bare, "treat", details, {"bed": bed})
    [notice] = bare.evaluate("garden.state.notices.filter((one) => one.tone === 'done')")
    assert (notice["entry"], notice["mayUndo"]) == (treat, False)
    waiting = bare.evaluate("garden.state.waiting")
    for call in (
        f"actions.undo('{treat}')",
        f"actions.correct('{treat}', {{method: 'product', days_to_harvest: 0}})",
    ):
        assert bare.evaluate(refused(call)) == "NotPermitted"
    assert bare.evaluate("garden.state.waiting") <= waiting
    held = "(bed) => garden.state.look.withheld('pick', {bed}).state"
    assert bare.evaluate(held, bed) == "blocked"
    assert bare.evaluate("garden.state.notices.at(-1).message.key") == "error.leads_to_change"
    # A lead's own file does not lift it here either, before the shed has had its say.
    file = f"""async () => {{
      const entry = await garden.store.get('entries', '{treat}');
      const lifting = {{...entry, id: '00000000-0000-7000-8000-0000000000aa', kind: 'void',
        subjects: {{}}, details: {{entry: '{treat}'}}}};
      return actions.importEntries(new File([JSON.stringify(lifting)], 'lead.jsonl'));
    }}"""
    assert bare.evaluate(file) == 0
    assert bare.evaluate(held, bed) == "blocked"
    sync(bare)
    bare.close()

    page = phone.open(f"/#/entry/{treat}")
    expect(page.get_by_text("Only the lead can change a treatment")).to_be_visible()
    expect(page.get_by_role("button", name="Take back")).to_have_count(0)
    expect(page.get_by_role("link", name="Correct")).to_have_count(0)


def test_helper_takes_back_no_raw_manure_nor_what_was_corrected_into_it(
    shed: Shed, phone: Phone
) -> None:
    bare = phone.garden(shed.helper_link())
    bed = make_bed(bare)
    raw = record(bare, "feed", {"origin": "raw_manure"}, {"bed": bed})
    [notice] = bare.evaluate("garden.state.notices.filter((one) => one.tone === 'done')")
    assert (notice["entry"], notice["mayUndo"]) == (raw, False)
    slip = record(bare, "feed", {"origin": "compost"}, {"bed": bed})
    bare.evaluate(f"() => actions.correct('{slip}', {{origin: 'raw_manure'}})")
    for call in (
        f"actions.undo('{raw}')",
        f"actions.correct('{raw}', {{origin: 'compost'}})",
        f"actions.undo('{slip}')",
    ):
        assert bare.evaluate(refused(call)) == "NotPermitted"
    assert bare.evaluate(f"garden.state.look.event('{slip}').details.origin") == "raw_manure"
    compost = record(bare, "feed", {"origin": "compost"}, {"bed": bed})
    bare.evaluate(f"() => actions.undo('{compost}')")
    assert bare.evaluate(f"garden.state.look.event('{compost}')") is None


def test_form_that_storage_refuses_is_left_so_that_nothing_is_written_twice(
    shed: Shed, phone: Phone
) -> None:
    page = phone.open(shed.lead_link())
    expect(page.get_by_role("navigation")).to_be_visible()
    page.goto(f"{shed.origin}/#/record/rain")
    page.evaluate(REFUSE_WRITES)
    page.locator("#field-depth_mm").fill("12")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.get_by_text("storage refused the entry")).to_be_visible()
    expect(page.locator("#field-depth_mm")).to_have_count(0)
    assert page.url == f"{shed.origin}/#/"


def test_join_link_on_a_phone_that_is_in_a_garden_asks_first(shed: Shed, phone: Phone) -> None:
    page = phone.open(shed.helper_link())
    expect(page.get_by_role("navigation")).to_be_visible()
    link = shed.lead_link()
    code = link.rsplit("/", 1)[1]
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(link)
    expect(page.get_by_text("This device belongs to Test garden")).to_be_visible()
    expect(page.locator("#join-code")).to_have_value(code)
    assert code not in page.url
    assert not [url for url in asked if url.endswith("/api/session")]
    page.get_by_role("button", name="Join the garden").tap()
    expect(page.locator("#join-code")).to_have_count(0)
    assert [url for url in asked if url.endswith("/api/session")]


def test_number_mended_away_is_no_loss_to_the_lead(
    shed: Shed, new_phone: Callable[[], Phone]
) -> None:
    page = new_phone().garden(shed.helper_link())
    shed.kill()
    bad = record(page, "rain", {"depth_mm": 1})
    page.evaluate(HOLD, bad)
    mend = "(id) => actions.mend(id, {kind: 'rain', details: {depth_mm: 2}}).then(() => undefined)"
    page.evaluate(mend, bad)
    shed.start()
    assert sync(page)["waiting"] == 0
    told = sync(page)
    assert told["missing"] == []
    depths: list[Any] = page.evaluate(
        "garden.state.look.events({kind: 'rain'}).map((event) => event.details.depth_mm)"
    )
    assert depths == [2]
