"""What holds for any log: evaluation never fails, and neither order nor later days mislead."""

from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.log.ledger import Ledger
from shedbook.log.view import view_of_bed, view_of_planting
from shedbook.rules.evaluate import evaluate
from shedbook.rules.garden import findings_of_garden
from shedbook.rules.rulebook import load_rulebook
from tests.unit.rules.gardens import DAY_S, RandomGarden, spoil

STATES = {"upcoming", "due", "overdue", "blocked", "unknown", "flagged", "noted"}
SEEDS = st.integers(min_value=10_000, max_value=1_000_000)


def views_of(garden: RandomGarden) -> list[dict[str, Any]]:
    ledger = Ledger()
    ledger.add(garden.entries)
    views = [view_of_bed(ledger, bed) for bed in garden.beds]
    views += [view_of_planting(ledger, planting) for planting, _ in garden.plantings]
    return [view for view in views if view is not None]


@settings(max_examples=60)
@given(SEEDS)
def test_evaluate_on_odd_values_never_fails_and_says_one_of_the_states(seed: int) -> None:
    garden = RandomGarden(seed)
    for view in views_of(garden):
        odd = spoil(view, Random(seed))
        for made in evaluate(odd, load_rulebook(), garden.today, garden.now):
            assert made["state"] in STATES


@settings(max_examples=40)
@given(SEEDS)
def test_findings_in_any_order_of_events_are_the_same(seed: int) -> None:
    garden = RandomGarden(seed)
    for view in views_of(garden):
        shuffled = Random(seed).sample(view["events"], len(view["events"]))
        at = (load_rulebook(), garden.today, garden.now)
        assert evaluate(view | {"events": shuffled}, *at) == evaluate(view, *at)


@settings(max_examples=40)
@given(SEEDS, st.integers(min_value=1, max_value=60))
def test_findings_on_a_later_day_never_turn_overdue_into_upcoming(seed: int, later: int) -> None:
    garden = RandomGarden(seed)
    ledger = Ledger()
    ledger.add(garden.entries)
    rulebook, today, now = load_rulebook(), garden.today, garden.now
    before = findings_of_garden(ledger, rulebook, today, now)
    after = findings_of_garden(ledger, rulebook, today + later, now + later * DAY_S)
    overdue = {made["key"] for made in before if made["state"] == "overdue"}
    assert not overdue & {made["key"] for made in after if made["state"] in ("upcoming", "due")}


@settings(max_examples=40)
@given(SEEDS)
def test_findings_have_keys_of_their_own_and_prove_them_with_known_entries(seed: int) -> None:
    garden = RandomGarden(seed)
    ledger = Ledger()
    ledger.add(garden.entries)
    found = findings_of_garden(ledger, load_rulebook(), garden.today, garden.now)
    keys = [made["key"] for made in found]
    assert keys == sorted(set(keys))
    known = {entry["id"] for entry in garden.entries}
    assert all(set(made["entries"]) <= known for made in found)
