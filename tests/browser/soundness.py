"""What must hold after every fault: nothing lost, nothing twice, no gap, one log everywhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from typing import Any

from playwright.sync_api import Page

from tests.browser.phone import sync
from tests.browser.screens import log_at
from tests.browser.shed import Shed

ON_PHONE = """async () => {
  const all = await garden.store.getAll('entries');
  // What waits for a garden that the phone has left is no part of this one's log.
  const here = all.filter((entry) => entry.garden === garden.state.session.garden.id);
  const rows = here.map(({id, seq, order}) => ({id, seq, order}));
  return rows.sort((a, b) => a.seq - b.seq);
}"""
# What follows from the log alone: neither who asks nor the clock changes it.
FOLDED = """() => {
  const { beds, plantings, settings, look } = garden.state;
  const events = look.events().map(({id, kind, details, bed, planting, day, hour}) =>
    ({id, kind, details, bed, planting, day, hour}));
  return JSON.parse(JSON.stringify({ beds, plantings, settings, events }));
}"""
SENT = "garden.state.devices.map(({id, waiting, missing}) => ({id, waiting, missing}))"
OWN_IDS = "async () => garden.store.getAllKeys('entries')"


def acknowledged_on(page: Page) -> list[str]:
    """The ids of all that a phone has stored: before its first talk, all that it acknowledged."""
    ids: list[str] = page.evaluate(OWN_IDS)
    return ids


def assert_sound(
    shed: Shed, pages: Sequence[Page], acknowledged: Collection[str]
) -> list[dict[str, Any]]:
    """The shed's log, after tabs with a garden have talked, was found to hold all of it once.

    `pages` are of different phones, paired with the same garden.
    """
    for _ in range(2):  # Who came first hears at the second visit what the others brought.
        for page in pages:
            told = sync(page)
            assert told["sync"]["phase"] == "idle", told
            assert (told["waiting"], told["missing"]) == (0, []), told
    log = log_at(pages[0], shed.origin)
    assert sorted(entry["id"] for entry in log) == sorted(acknowledged)
    assert [entry["seq"] for entry in log] == list(range(1, len(log) + 1))
    numbers: dict[str, list[int]] = defaultdict(list)
    for entry in log:
        numbers[entry["notebook"]].append(entry["number"])
    for notebook, used in numbers.items():
        assert sorted(used) == list(range(1, len(used) + 1)), notebook
    for page in pages:
        rows = page.evaluate(ON_PHONE)
        assert rows == [{name: entry[name] for name in ("id", "seq", "order")} for entry in log]
        assert [(one["waiting"], one["missing"]) for one in page.evaluate(SENT)] == [
            (0, 0) for _ in pages
        ]
    first, *others = [page.evaluate(FOLDED) for page in pages]
    for other in others:
        assert other == first
    return log
