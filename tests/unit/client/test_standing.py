"""What the rules found on a phone: reckoned in pieces, and kept from one opening to the next."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from shedbook.log.ledger import Ledger
from shedbook.log.moment import DAY_SECONDS
from shedbook.rules.garden import findings_of_subject, subjects_touched
from shedbook.rules.rulebook import load_rulebook
from tests.node import ask_node
from tests.unit.rules.gardens import RandomGarden

RUNNER = Path(__file__).parents[2] / "twins" / "standing.mjs"
SEEDS = range(12)
BATCHES = 5
RULEBOOK = load_rulebook()


def present_of(garden: RandomGarden) -> dict[str, int]:
    return {"day": garden.today, "instant": garden.now}


def ask_about(garden: RandomGarden, scenario: str, **more: Any) -> Any:
    """The answer of tests/twins/standing.mjs."""
    asked = {"scenario": scenario, "rulebook": RULEBOOK, "present": present_of(garden)}
    return ask_node(RUNNER, {**asked, "entries": garden.entries, **more})


def expected(garden: RandomGarden) -> list[list[Any]]:
    """Each subject with its findings, as the shed reckons them in one go."""
    ledger = Ledger()
    ledger.add(garden.entries)
    found = {
        ":".join(subject): findings_of_subject(ledger, subject, RULEBOOK, garden.today, garden.now)
        for subject in subjects_touched(ledger, ["garden"])
    }
    return with_something([[key, findings] for key, findings in sorted(found.items())])


def with_something(told: list[list[Any]]) -> list[list[Any]]:
    """Without subjects on which there is nothing to say, as on a bed that was only named."""
    return [[key, findings] for key, findings in told if findings]


@pytest.mark.parametrize("seed", SEEDS)
def test_entries_that_come_while_the_rules_are_at_work_are_all_reckoned_with(seed: int) -> None:
    garden = RandomGarden(seed)
    batches = [garden.entries[start::BATCHES] for start in range(BATCHES)]
    told = ask_about(garden, "inBetween", batches=batches)
    assert with_something(told["findings"]) == expected(garden)
    assert told["overlaps"] == BATCHES - 1
    assert told["isWhole"]


def test_what_an_entry_touches_goes_before_what_has_waited_longer() -> None:
    garden = RandomGarden(1)
    last = max(key for key, _ in expected(garden) if key.startswith("planting:"))
    noted = garden.entries[0] | {
        "id": "zz",
        "kind": "note",
        "subjects": {"planting": last.removeprefix("planting:")},
        "details": {"text": "Dew until nine."},
    }
    told = ask_about(garden, "turnsBefore", added=noted, touched=last)
    assert told["subjects"] > 4
    assert len(told["earlier"]) <= 1, "no more than the one that was at work"


def a_garden_with_a_turn() -> tuple[RandomGarden, int]:
    """One of whose findings begins or ends later on the same day, and when."""
    for seed in range(200):
        garden = RandomGarden(seed)
        turns = [
            instant
            for _, findings in expected(garden)
            for made in findings
            for instant in (made.get("from"), made.get("until"))
            if instant is not None and garden.now < instant < garden.now + 10 * DAY_SECONDS
        ]
        if turns:
            return garden, min(turns)
    raise AssertionError("no garden with a turn")


def test_kept_findings_are_taken_up_for_the_same_log_rules_and_day_alone() -> None:
    garden, turns_at = a_garden_with_a_turn()
    present = present_of(garden)
    newer = garden.entries[-1] | {"id": "zz", "clock": "f" * 16, "order": "f" * 16}
    oldest, *rest = sorted(garden.entries, key=lambda entry: (entry["clock"], entry["id"]))
    other_rules = RULEBOOK | {"digest": "another"}
    openings: dict[str, dict[str, Any]] = {
        "same": {},
        "a little later": {"present": present | {"instant": turns_at - 1}},
        "something has begun or ended": {"present": present | {"instant": turns_at}},
        "an earlier time": {"present": present | {"instant": garden.now - 1}},
        "another day": {"present": present | {"day": garden.today + 1}},
        "other rules": {"rulebook": other_rules},
        "one entry more": {"entries": [*garden.entries, newer]},
        "one entry less": {"entries": garden.entries[:-1]},
        "one entry for another": {"entries": [*garden.entries[:-1], newer]},
        "one entry for another of the same time": {"entries": [oldest | {"id": "zz"}, *rest]},
        "the same in another order": {"entries": garden.entries[::-1]},
    }
    told = ask_about(garden, "keptFor", openings=list(openings.values()))
    taken = {name for name, one in zip(openings, told, strict=True) if one["isTaken"]}
    assert taken == {"same", "a little later", "the same in another order"}
    for one in told:
        assert one["findings"] == (one["as"] if one["isTaken"] else [])
    assert with_something(told[0]["as"]) == expected(garden)


def test_findings_are_kept_on_a_phone_that_is_still_in_their_garden_alone() -> None:
    garden = RandomGarden(0)
    told = ask_about(garden, "keptWhere", gardens=["home", "another", None])
    assert told == [True, False, False]
