"""Order, batching and duplication decide nothing: the properties that syncing rests on."""

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.log.ledger import Ledger
from tests.builders import Entry
from tests.unit.log.gardens import a_random_log, all_views

# A seed each, not drawn choice by choice: a garden takes hundreds of choices.
RANDOM = st.builds(Random, st.integers(0, 2**48))


def ledger_of(entries: list[Entry]) -> Ledger:
    ledger = Ledger()
    ledger.add(entries)
    return ledger


def in_batches(random: Random, entries: list[Entry]) -> list[list[Entry]]:
    batches = []
    left = list(entries)
    while left:
        size = random.randint(1, 5)
        batches.append(left[:size])
        left = left[size:]
    return batches


@given(RANDOM)
@settings(max_examples=80)
def test_add_in_any_order_and_batches_with_repeats_gives_the_same_garden(random: Random) -> None:
    entries = a_random_log(random)
    whole = ledger_of(entries)
    shuffled = entries + random.sample(entries, len(entries) // 2)
    random.shuffle(shuffled)
    piecewise = Ledger()
    for batch in in_batches(random, shuffled):
        piecewise.add(batch)
    assert piecewise.snapshot() == whole.snapshot()
    assert all_views(piecewise) == all_views(whole)


@given(RANDOM)
@settings(max_examples=40)
def test_add_entry_by_entry_equals_a_rebuild_at_every_step(random: Random) -> None:
    entries = a_random_log(random, most=20)
    random.shuffle(entries)
    ledger = Ledger()
    for count, entry in enumerate(entries, start=1):
        ledger.add([entry])
        assert ledger.snapshot() == ledger_of(entries[:count]).snapshot()


@given(RANDOM)
@settings(max_examples=80)
def test_reached_by_what_was_touched_covers_every_view_that_changed(random: Random) -> None:
    entries = a_random_log(random)
    random.shuffle(entries)
    ledger = Ledger()
    before = all_views(ledger)
    for batch in in_batches(random, entries):
        reached = set(ledger.reached_by(ledger.add(batch)))
        after = all_views(ledger)
        changed = {key for key in before | after if before.get(key) != after.get(key)}
        assert changed <= reached
        before = after


@given(RANDOM)
@settings(max_examples=40)
def test_forget_equals_never_having_added(random: Random) -> None:
    entries = a_random_log(random)
    gone = {entry["id"] for entry in random.sample(entries, random.randint(0, len(entries)))}
    ledger = ledger_of(entries)
    before = all_views(ledger)
    reached = set(ledger.reached_by(ledger.forget(gone)))
    after = all_views(ledger)
    kept = [entry for entry in entries if entry["id"] not in gone]
    assert ledger.snapshot() == ledger_of(kept).snapshot()
    # A place that is gone is reached by the key that it had.
    assert {key for key in before if before[key] != after.get(key)} <= reached | {
        key for key in before if key not in after
    }


@given(RANDOM)
@settings(max_examples=40)
def test_add_with_two_orders_of_one_entry_keeps_the_smaller(random: Random) -> None:
    entries = a_random_log(random)
    # What a phone held before the shed had answered: the same entries without an order.
    unsent = [{key: entry[key] for key in entry if key != "order"} for entry in entries]
    both = entries + unsent
    random.shuffle(both)
    assert ledger_of(both).snapshot() == ledger_of(entries).snapshot()
