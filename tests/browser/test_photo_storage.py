"""A photo is on the phone once it is taken, and at the shed once it is sent, whatever happens."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Callable

from playwright.sync_api import Route

from tests.browser.phone import OPEN_GARDEN, Phone, make_bed, record
from tests.browser.photos import (
    AS_FILE,
    COUNTS,
    KEPT,
    PHOTOS,
    add_photo,
    bytes_of,
    hashes_at,
    paired,
    shrink,
    talk,
)
from tests.browser.pictures import a_camera_picture, a_noisy_picture, a_small_picture, look_at
from tests.browser.shed import Shed

NewPhone = Callable[[], Phone]
MOST_BYTES = 450_000
# What the app of before photos left on a phone: its stores, and one entry that waits.
VERSION_1 = """async ({ session, entry }) => {
  const opening = indexedDB.open('shedbook', 1);
  opening.onupgradeneeded = () => {
    const database = opening.result;
    database.createObjectStore('entries', { keyPath: 'id' }).createIndex('notebook', 'notebook');
    database.createObjectStore('outbox', { keyPath: 'id' });
    database.createObjectStore('attention', { keyPath: 'id' });
    const meta = database.createObjectStore('meta');
    const { id, garden, notebook, number, clock } = entry;
    opening.transaction.objectStore('entries').add(entry);
    opening.transaction.objectStore('outbox').add({ id, garden, notebook, number });
    meta.put(session, 'session');
    meta.put({ id: notebook, number, clock }, 'notebook');
    meta.put([notebook], 'notebooks');
  };
  await new Promise((done, fail) => { opening.onsuccess = done; opening.onerror = fail; });
  opening.result.close();
}"""
SPEND = """async (code) => (await fetch('/api/session', {
  method: 'POST', body: JSON.stringify({ code, device_name: 'Phone' }),
  headers: { 'Content-Type': 'application/json', 'X-Shedbook': '1' },
})).json()"""
LOSE_PHOTOS = """
from sqlalchemy import delete
from shedbook.records.gardens import all_gardens, start_new_epoch
from shedbook.records.models import Photo, PhotoImage, db
with app.app_context():
    start_new_epoch(all_gardens()[0].id)
    db.session.execute(delete(PhotoImage))
    db.session.execute(delete(Photo))
    db.session.commit()
"""


def test_picture_of_a_camera_when_chosen_stands_upright_and_tells_nothing_but_pixels(
    shed: Shed, phone: Phone
) -> None:
    page = paired(phone, shed.lead_link())
    camera = a_camera_picture()
    assert look_at(camera).has_exif
    sha256 = add_photo(page, make_bed(page), file=camera)
    made = bytes_of(page, sha256)
    assert hashlib.sha256(made).hexdigest() == sha256
    seen = look_at(made)
    assert (seen.form, seen.size, seen.has_exif) == ("JPEG", (1067, 1600), False)
    assert (seen.upper, seen.lower) == ("red", "blue")
    told = page.evaluate("garden.state.look.events({kind: 'photo'})[0].details")
    assert told == {
        "sha256": sha256,
        "type": "image/jpeg",
        "bytes": len(made),
        "width_px": 1067,
        "height_px": 1600,
    }


def test_picture_that_shrinks_badly_is_made_small_enough_all_the_same(
    shed: Shed, phone: Phone
) -> None:
    page = paired(phone, shed.lead_link())
    made = shrink(page, a_noisy_picture())
    assert made is not None
    assert 0 < made["bytes"] <= MOST_BYTES
    assert made["width_px"] <= 1600


def test_file_that_is_no_picture_is_told_and_nothing_is_written(shed: Shed, phone: Phone) -> None:
    page = paired(phone, shed.lead_link())
    bed = make_bed(page)
    before = page.evaluate(KEPT)
    add_photo(page, bed, file=b"not a picture")
    told = page.evaluate("garden.state.notices.map((one) => [one.tone, one.message.key])")
    assert ["trouble", "error.no_picture_in_file"] in told
    assert page.evaluate(KEPT) == before


def test_photo_when_its_way_is_cut_or_its_answer_lost_waits_and_goes_over_once(
    shed: Shed, phone: Phone
) -> None:
    page = paired(phone, shed.lead_link())
    bed = make_bed(page)
    talk(page)
    tries: list[str] = []

    def cut_then_lose_the_answer(route: Route) -> None:
        tries.append(route.request.method)
        if len(tries) > 1:
            route.fetch()
        route.abort()

    page.route(PHOTOS, cut_then_lose_the_answer)
    sha256 = add_photo(page, bed)
    for _ in range(2):
        assert talk(page) == "unreachable"
        assert page.evaluate(COUNTS) == {"waiting": 1, "refused": []}
        assert page.evaluate("garden.state.waiting") == 0
    assert hashes_at(shed) == [sha256]

    page.unroute(PHOTOS)
    assert talk(page) == "idle"
    assert page.evaluate(COUNTS) == {"waiting": 0, "refused": []}
    assert hashes_at(shed) == [sha256]
    assert set(tries) == {"PUT"}


def test_photo_that_a_stranger_says_to_have_taken_still_waits(shed: Shed, phone: Phone) -> None:
    page = paired(phone, shed.lead_link())
    bed = make_bed(page)
    page.route(PHOTOS, lambda route: route.fulfill(status=200, body="<p>Sign in</p>"))
    add_photo(page, bed)
    assert talk(page) == "unreachable"
    assert page.evaluate(COUNTS) == {"waiting": 1, "refused": []}


def test_file_of_what_is_unsent_carries_photos_to_another_phone(
    shed: Shed, new_phone: NewPhone
) -> None:
    first, second = new_phone(), new_phone()
    other = paired(second, shed.helper_link())
    page = paired(first, shed.lead_link())
    shed.kill()
    bed = make_bed(page)
    sha256 = add_photo(page, bed, file=a_camera_picture())
    made = bytes_of(page, sha256)
    with page.expect_download() as download:
        page.evaluate("actions.exportUnsent()")
    lines = download.value.path().read_text(encoding="utf-8").splitlines()
    assert [json.loads(line).get("kind") for line in lines] == ["bed", "photo", None]

    broken = json.loads(lines[-1]) | {"sha256": "0" * 64}
    text = "\n".join([*lines, json.dumps(broken)])
    taken = "(text) => actions.importEntries(new File([text], 'unsent.jsonl'))"
    assert other.evaluate(taken, text) == 2
    left_out = other.evaluate("garden.state.notices.map((one) => one.message)")
    assert left_out[-1]["key"] == "error.lines_left_out"
    assert (left_out[-1]["values"]["count"], left_out[-1]["values"]["line"]) == (1, 4)
    assert other.evaluate(COUNTS) == {"waiting": 1, "refused": []}
    assert bytes_of(other, sha256) == made
    shed.start()
    assert talk(other) == "idle"
    assert other.evaluate("garden.state.waiting") == 0
    assert hashes_at(shed) == [sha256]


def test_phone_of_the_version_before_photos_keeps_what_waits_and_takes_photos(
    shed: Shed, phone: Phone
) -> None:
    page = phone.bare()
    session = page.evaluate(SPEND, shed.lead_link().rsplit("/", 1)[1])
    entry = {
        "id": "019dd2b0-7a41-7c3e-9f60-000000000001",
        "garden": session["garden"]["id"],
        "notebook": "019dd2b0-7a41-7c3e-9f60-000000000002",
        "number": 1,
        "kind": "bed",
        "version": 1,
        "subjects": {"bed": "019dd2b0-7a41-7c3e-9f60-000000000001"},
        "happened_at": "2026-06-01T07:40:00+02:00",
        "recorded_at": "2026-06-01T07:40:00+02:00",
        "clock": "0019e7a0b3c40000",
        "device": session["device"]["id"],
        "person": session["person"]["id"],
        "details": {"name": "Long bed"},
    }
    page.evaluate(VERSION_1, {"session": session, "entry": entry})
    page.evaluate(OPEN_GARDEN)
    page.evaluate(AS_FILE)
    assert page.evaluate("garden.state.beds.map((bed) => bed.name)") == ["Long bed"]
    assert page.evaluate("garden.state.waiting") == 1
    sha256 = add_photo(page, entry["id"])
    assert page.evaluate(KEPT)["entries"] == ["bed", "photo"]
    assert talk(page) == "idle"
    assert page.evaluate("garden.state.waiting") == 0
    assert hashes_at(shed) == [sha256]


def test_photo_when_storage_is_full_leaves_nothing_half_written_and_is_stored_later(
    shed: Shed, phone: Phone
) -> None:
    page = paired(phone, shed.lead_link())
    bed = make_bed(page)
    before = page.evaluate(KEPT)
    page.evaluate("""() => {
      globalThis.realPut = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (...given) {
        if (this.name !== 'images') return realPut.apply(this, given);
        this.transaction.abort();
        throw new DOMException('no space', 'QuotaExceededError');
      };
    }""")
    made = page.evaluate(
        """async (picture) => {
      const taken = await actions.shrinkPicture(fileOf(picture, 'image/png'));
      return garden.record({ kind: 'rain', details: { depth_mm: 7 }, pictures: [taken] })
        .then(() => 'resolved', (error) => error.name);
    }""",
        base64.b64encode(a_small_picture()).decode(),
    )
    assert made == "NotSaved"
    assert page.evaluate(KEPT) == before
    assert page.evaluate("garden.state.unsaved") == 1
    with page.expect_download() as download:
        page.evaluate("actions.exportUnsent()")
    assert "image_base64" in download.value.path().read_text(encoding="utf-8")

    page.evaluate("() => { IDBObjectStore.prototype.put = realPut; }")
    record(page, "rain", {"depth_mm": 8})
    assert page.evaluate("garden.state.unsaved") == 0
    kept = page.evaluate(KEPT)
    assert sorted(kept["entries"]) == ["bed", "photo", "rain", "rain"]
    assert (kept["images"], [state for _, state in kept["photos"]]) == (1, ["waiting"])
    assert talk(page) == "idle"
    assert page.evaluate("garden.state.waiting") == 0
    assert hashes_at(shed) == [kept["photos"][0][0]]
    assert page.evaluate("(bed) => garden.state.look.bed(bed).name", bed) == "Long bed"


def test_shed_put_back_without_its_photos_gets_them_again(shed: Shed, phone: Phone) -> None:
    page = paired(phone, shed.lead_link())
    sha256 = add_photo(page, make_bed(page))
    talk(page)
    assert hashes_at(shed) == [sha256]
    shed.python(LOSE_PHOTOS)
    assert hashes_at(shed) == []
    talk(page)
    assert hashes_at(shed) == [sha256]
    assert page.evaluate(COUNTS) == {"waiting": 0, "refused": []}


def test_phone_that_leaves_forgets_photos_of_the_shed_and_keeps_what_was_not_sent(
    shed: Shed, phone: Phone
) -> None:
    page = paired(phone, shed.lead_link())
    bed = make_bed(page)
    add_photo(page, bed)
    talk(page)
    page.route(PHOTOS, lambda route: route.abort())
    unsent = add_photo(page, bed, file=a_small_picture("blue"))
    page.evaluate("actions.leave()")
    kept = page.evaluate(KEPT)
    assert (kept["photos"], kept["images"]) == ([[unsent, "waiting"]], 1)

    page.unroute(PHOTOS)
    page.evaluate("(code) => actions.join(code, 'Phone')", shed.lead_link().rsplit("/", 1)[1])
    talk(page)
    assert unsent in hashes_at(shed)
    assert page.evaluate(COUNTS) == {"waiting": 0, "refused": []}
