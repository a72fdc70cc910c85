"""A phone that was three weeks away comes back with 2,000 entries, and stays usable meanwhile."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

from playwright.sync_api import FilePayload, Page, Request, expect

from tests.browser.phone import Phone, make_bed, sync
from tests.browser.screens import expect_told, expect_waiting, go
from tests.browser.shed import Shed
from tests.browser.soundness import acknowledged_on, assert_sound

MANY = 2_000
AWAY = timedelta(days=21)
LARGEST_BATCH = 200
LARGEST_BODY = 1_000_000
# What the masthead said of what waits, each time that it was drawn otherwise.
WATCH = """() => {
  globalThis.seen = [];
  const masthead = document.querySelector('header');
  new MutationObserver(() => {
    const [told] = masthead.innerText.match(/\\d+ waiting/) ?? [];
    if (told && seen.at(-1) !== told) seen.push(told);
  }).observe(masthead, { subtree: true, childList: true, characterData: true });
}"""
TEMPLATE = "async () => (await garden.store.getAll('entries')).at(-1)"


def test_phone_three_weeks_away_hands_over_2000_entries_in_batches_and_shows_it(
    shed: Shed, new_phone: Callable[[], Phone]
) -> None:
    phone = new_phone()
    page = away_for_three_weeks(phone, shed)
    page.evaluate(WATCH)
    sizes: list[tuple[int, int]] = []
    page.on("request", lambda request: measure(request, sizes))
    shed.start()
    began = time.monotonic()
    page.get_by_role("button", name="Talk to the shed now").tap()
    # While it goes over, another tap is written and told.
    expect(page.get_by_role("banner")).not_to_contain_text(f"{MANY} waiting")
    tapped = time.monotonic()
    go(page, "#/record/rain")
    page.locator("#field-depth_mm").fill("3")
    page.get_by_role("button", name="Write it down").tap()
    expect_told(page, "3 mm")
    answered = time.monotonic()
    expect_waiting(page, 0)
    ended = time.monotonic()
    print(f"{MANY} entries in {ended - began:.1f} s, a tap among them in {answered - tapped:.1f} s")

    counts = [int(one.split()[0]) for one in page.evaluate("seen")]
    assert len(counts) >= MANY // LARGEST_BATCH
    assert counts[-1] == 0
    assert max(count for count, _ in sizes) <= LARGEST_BATCH
    assert max(size for _, size in sizes) <= LARGEST_BODY
    again = phone.garden()
    ids = acknowledged_on(again)
    assert len(ids) == 2 + MANY
    assert_sound(shed, [again, new_phone().garden(shed.lead_link())], ids)


def away_for_three_weeks(phone: Phone, shed: Shed) -> Page:
    """A phone's own screen with all that waits on it, and a shed that is not there."""
    hands = phone.garden(shed.helper_link())
    make_bed(hands)
    sync(hands)
    like = hands.evaluate(TEMPLATE)
    page = phone.open("/#/phone")
    expect_waiting(page, 0)
    taking_in = page.get_by_label("Take in")
    expect(taking_in).to_be_attached()
    shed.kill()
    lines = "".join(f"{json.dumps(entry)}\n" for entry in three_weeks(like))
    file = FilePayload(
        name="away.jsonl", mimeType="application/x-ndjson", buffer=lines.encode("utf-8")
    )
    taking_in.set_input_files([file])
    expect_waiting(page, MANY)
    assert len(acknowledged_on(hands)) == 1 + MANY
    hands.close()
    return page


def three_weeks(like: dict[str, Any]) -> list[dict[str, Any]]:
    """What a phone writes that is tapped a hundred times a day, as entries of a file."""
    bed = like["subjects"]["bed"]
    now = datetime.now(UTC).replace(microsecond=0)
    return [
        {
            **{name: like[name] for name in ("garden", "device", "person", "version")},
            "id": f"019dd2b0-7a41-7c3e-9f60-{at:012x}",
            "kind": "water" if at % 2 else "note",
            "subjects": {"bed": bed},
            "details": {"volume_l": 5 + at % 20} if at % 2 else {"text": f"row {at}, all well"},
            "happened_at": moment(now - AWAY + at * AWAY / MANY),
            "recorded_at": moment(now - AWAY + at * AWAY / MANY),
            "clock": f"{int((now - AWAY + at * AWAY / MANY).timestamp() * 1000):012x}0000",
        }
        for at in range(MANY)
    ]


def moment(at: datetime) -> str:
    return at.strftime("%Y-%m-%dT%H:%M:%S+00:00")


def measure(request: Request, sizes: list[tuple[int, int]]) -> None:
    if request.url.endswith("/sync"):
        body = request.post_data or ""
        sizes.append((len(json.loads(body)["entries"]), len(body)))
