"""Phone and shed tell each other everything, once, through every failure in between."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.phone import Phone, make_bed, record, sync
from tests.browser.shed import Shed

NewPhone = Callable[[], Phone]
IDS_AT_SHED = """
from shedbook.records.models import Entry, db
with app.app_context():
    for entry in db.session.query(Entry).order_by(Entry.seq): print(entry.id)
"""
NEW_EPOCH = """
from shedbook.records.gardens import all_gardens, start_new_epoch
with app.app_context():
    start_new_epoch(all_gardens()[0].id)
"""


def ids_at(shed: Shed) -> list[str]:
    """The ids of the log at the shed, in its order."""
    return shed.python(IDS_AT_SHED).split()


def attention(page: Page) -> list[dict[str, Any]]:
    """What the phone shows under "needs attention"."""
    rows: list[dict[str, Any]] = page.evaluate("garden.state.attention")
    return rows


def test_sync_after_the_shed_was_killed_hands_over_everything_once(
    shed: Shed, new_phone: NewPhone
) -> None:
    page = new_phone().garden(shed.lead_link())
    shed.kill()
    made = [make_bed(page), *(record(page, "rain", {"depth_mm": n}) for n in range(3))]
    assert sync(page)["sync"]["phase"] == "unreachable"
    assert page.evaluate("garden.state.waiting") == 4

    shed.start()
    told = sync(page)
    assert told["waiting"] == 0
    assert told["sync"] == {"phase": "idle", "error": None, "nextTryMs": told["sync"]["nextTryMs"]}
    assert told["knownAtMs"] is not None
    assert ids_at(shed) == made
    sync(page)
    assert ids_at(shed) == made

    other = new_phone().garden(shed.helper_link())
    assert other.evaluate("garden.state.beds.map((bed) => bed.name)") == ["Long bed"]


def test_sync_with_nothing_new_takes_one_request(shed: Shed, phone: Phone) -> None:
    page = phone.garden(shed.lead_link())
    record(page, "rain", {"depth_mm": 3})
    sync(page)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    sync(page)
    assert [url.rsplit("/", 1)[1] for url in asked] == ["sync"]


def test_sync_of_an_entry_set_aside_shows_it_out_of_the_fold_until_it_is_mended(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    bed = make_bed(page)
    bad = record(page, "water", {"volume_l": -5}, {"bed": bed})
    good = record(page, "rain", {"depth_mm": 3})
    assert sync(page)["waiting"] == 0
    assert ids_at(shed) == [bed, good]
    [row] = attention(page)
    assert (row["id"], row["result"]) == (bad, "set_aside")
    assert "details.volume_l" in row["problems"]
    assert page.evaluate("(id) => garden.state.look.event(id)", bad) is None

    # Putting it away before it is mended is no way to lose it.
    page.evaluate("(id) => actions.dismiss(id)", bad)
    assert len(attention(page)) == 1
    mend = "async ([id, bed]) => (await actions.mend(id, {kind: 'water', subjects: {bed}," + (
        "details: {volume_l: 5}})).id"
    )
    mending = page.evaluate(mend, [bad, bed])
    assert attention(page)[0]["mended_by"] == mending
    sync(page)
    assert ids_at(shed) == [bed, good, mending]
    page.evaluate("(id) => actions.dismiss(id)", bad)
    assert attention(page) == []
    assert page.evaluate("(id) => garden.state.look.event(id)", bad) is None
    assert page.evaluate("garden.state.look.events({kind: 'water'}).length") == 1


def test_sync_with_one_entry_too_large_sends_the_others_and_shows_the_culprit(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    shed.kill()
    ids = [record(page, "rain", {"depth_mm": n}) for n in range(9)]
    culprit = ids[4]

    def refuse(route: Route) -> None:
        if culprit in (route.request.post_data or ""):
            route.fulfill(status=413, body="too large")
        else:
            route.continue_()

    page.route("**/sync", refuse)
    shed.start()
    told = sync(page)
    assert told["waiting"] == 1
    assert ids_at(shed) == [one for one in ids if one != culprit]
    [row] = attention(page)
    assert (row["id"], row["result"], row["hint"]) == (culprit, "failed", "too_large")

    page.unroute("**/sync")
    page.evaluate("actions.syncNow()")
    assert attention(page) == []
    assert page.evaluate("garden.state.waiting") == 0
    assert sorted(ids_at(shed)) == sorted(ids)


def test_sync_when_every_request_fails_blames_no_entry(shed: Shed, phone: Phone) -> None:
    page = phone.garden(shed.lead_link())
    page.route("**/sync", lambda route: route.fulfill(status=500, body="{}"))
    record(page, "rain", {"depth_mm": 1})
    told = sync(page)
    assert told["sync"]["phase"] == "failed"
    assert told["waiting"] == 1
    assert attention(page) == []


def test_sync_while_the_shed_cannot_store_says_so_keeps_the_entries_and_still_pulls(
    shed: Shed, new_phone: NewPhone
) -> None:
    phone = new_phone()
    page = phone.garden(shed.lead_link())
    other = new_phone().garden(shed.helper_link())
    theirs = record(other, "rain", {"depth_mm": 4})
    assert sync(other)["waiting"] == 0
    full = {"error": {"code": "no_room", "message": "", "fields": {}, "hint": ""}}

    def refuse(route: Route) -> None:
        if json.loads(route.request.post_data or "{}")["entries"]:
            route.fulfill(status=507, body=json.dumps(full))
        else:
            route.continue_()

    phone.context.route("**/sync", refuse)
    mine = record(page, "rain", {"depth_mm": 1})
    told = sync(page)
    assert (told["sync"]["phase"], told["sync"]["error"]) == ("not_storing", "no_room")
    assert told["waiting"] == 1
    assert attention(page) == []
    assert sorted(page.evaluate("garden.store.getAllKeys('entries')")) == sorted([mine, theirs])
    app = phone.open("/#/phone")
    expect(app.get_by_text("The shed's disk is full.")).to_be_visible()
    expect(app.get_by_text("the shed answers, but can't store anything")).to_be_visible()

    phone.context.unroute("**/sync")
    assert sync(page)["waiting"] == 0
    assert ids_at(shed) == [theirs, mine]


def test_sync_of_a_notebook_with_numbers_used_twice_opens_another_and_keeps_the_ids(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    first = [record(page, "rain", {"depth_mm": n}) for n in range(3)]
    sync(page)
    # A phone put back from an old backup counts on from a number that it has used since.
    before = page.evaluate("""async () => {
      const notebook = await garden.store.get('meta', 'notebook');
      await garden.store.put('meta', {...notebook, number: 1}, 'notebook');
      return notebook.id;
    }""")
    later = [record(page, "rain", {"depth_mm": n}) for n in range(10, 14)]
    assert sync(page)["waiting"] == 0
    assert sorted(ids_at(shed)) == sorted(first + later)
    now = page.evaluate("garden.store.get('meta', 'notebook')")
    assert now["id"] != before
    assert sync(page)["missing"] == []


@pytest.mark.parametrize("told", [NEW_EPOCH, ""], ids=["told", "files-put-back"])
def test_sync_after_the_shed_was_restored_gives_back_what_it_lost(
    shed: Shed, phone: Phone, tmp_path: Path, told: str
) -> None:
    page = phone.garden(shed.lead_link())
    kept = [record(page, "rain", {"depth_mm": n}) for n in range(2)]
    sync(page)
    shed.kill()
    shutil.copytree(shed.data, tmp_path / "backup")
    shed.start()
    lost = [record(page, "rain", {"depth_mm": n}) for n in range(10, 13)]
    sync(page)
    assert ids_at(shed) == kept + lost

    shed.kill()
    shutil.rmtree(shed.data)
    shutil.copytree(tmp_path / "backup", shed.data)
    shed.python(told)
    shed.start()
    assert ids_at(shed) == kept
    assert sync(page)["waiting"] == 0
    assert ids_at(shed) == kept + lost
    assert page.evaluate("garden.state.look.events().length") == 5


def test_sync_of_a_revoked_phone_wipes_what_it_pulled_and_keeps_what_it_wrote(
    shed: Shed, new_phone: NewPhone
) -> None:
    lead = new_phone().garden(shed.lead_link())
    make_bed(lead)
    sync(lead)
    helper = new_phone().garden(shed.helper_link())
    device = helper.evaluate("garden.state.session.device.id")
    lead.evaluate("(id) => actions.revokeDevice(id)", device)
    unsent = record(helper, "rain", {"depth_mm": 2})

    told = sync(helper)
    assert told["sync"]["phase"] == "revoked"
    assert told["waiting"] == 1
    assert helper.evaluate("garden.state.session") is None
    assert helper.evaluate("garden.store.getAllKeys('entries')") == [unsent]

    code = shed.helper_link().rsplit("/", 1)[1]
    helper.evaluate("(code) => actions.join(code, 'Phone')", code)
    assert helper.evaluate("garden.state.waiting") == 0
    assert unsent in ids_at(shed)


def test_sync_when_the_pairing_is_gone_asks_for_a_new_one_and_loses_nothing(
    shed: Shed, phone: Phone
) -> None:
    page = phone.garden(shed.lead_link())
    phone.context.clear_cookies()
    record(page, "rain", {"depth_mm": 2})
    told = sync(page)
    assert told["sync"]["phase"] == "not_paired"
    assert told["waiting"] == 1
    assert page.evaluate("garden.state.look.events().length") == 1


def test_sync_of_a_phone_whose_clock_is_wrong_says_so(shed: Shed, phone: Phone) -> None:
    phone.clock_off_ms = 20 * 60_000
    page = phone.garden(shed.lead_link())
    assert 1190 < sync(page)["clockOff"] < 1210


def test_unsent_entries_travel_to_the_shed_in_a_file_by_another_phone(
    shed: Shed, new_phone: NewPhone
) -> None:
    silent = new_phone()
    page = silent.garden(shed.helper_link())
    shed.kill()
    ids = [record(page, "rain", {"depth_mm": n}) for n in range(2)]
    with page.expect_download() as download:
        page.evaluate("actions.exportUnsent()")
    text = download.value.path().read_text(encoding="utf-8")
    assert [json.loads(line)["id"] for line in text.splitlines()] == ids
    silent.close()

    shed.start()
    other = new_phone().garden(shed.lead_link())
    take = "async (text) => actions.importEntries(new File([text], 'unsent.jsonl'))"
    assert other.evaluate(take, text) == 2
    assert other.evaluate(take, text) == 0
    sync(other)
    assert ids_at(shed) == ids
    assert attention(other) == []
    assert other.evaluate(take, text + "no entry\n") == 0
    assert other.evaluate("garden.state.notices.at(-1).message") == {
        "key": "error.lines_left_out",
        "values": {"count": 1, "line": 3, "why": "Must be an entry: a set of names with values."},
    }

    back = silent.garden()
    assert back.evaluate("garden.state.waiting") == 2
    assert sync(back)["waiting"] == 0
    assert ids_at(shed) == ids


def test_update_at_the_shed_is_offered_and_taken_by_the_persons_tap(
    shed: Shed, phone: Phone, tmp_path: Path
) -> None:
    page = phone.open(shed.lead_link())
    expect(page.locator("nav")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
    script = "document.querySelector('script[type=module]').getAttribute('src')"
    before = page.evaluate(script)

    shed.kill()
    shed.tree = copied_tree(shed.tree, tmp_path / "newer")
    (shed.tree / "client" / "words" / "la.json").write_text(
        '{"language.name": "Latina"}', encoding="utf-8"
    )
    shed.start()
    page.goto(f"{shed.origin}/#/phone")
    page.reload()
    update = page.get_by_role("button", name="Use the newer version")
    expect(update).to_be_visible()
    assert page.evaluate(script) == before
    with page.expect_navigation():
        update.tap()
    expect(page.get_by_role("navigation")).to_be_visible()
    assert page.evaluate(script) != before


def copied_tree(tree: Path, target: Path) -> Path:
    """The parts of the checkout that a shed runs from."""
    for name in ("server", "client", "migrations", "seed_demo", "build/client-packages/vendor"):
        ignored = shutil.ignore_patterns("node_modules", "__pycache__", ".*_cache")
        shutil.copytree(tree / name, target / name, ignore=ignored)
    return target
