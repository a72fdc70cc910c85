"""The phone's evaluator gives the same findings as the shed's: on the corpus and on chance."""

import json
from collections import Counter
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest

from shedbook.log.ledger import Ledger
from shedbook.log.view import view_of_bed, view_of_planting
from shedbook.rules.evaluate import evaluate
from shedbook.rules.garden import findings_of_garden, findings_of_subject
from shedbook.rules.long_ago import sight_of
from shedbook.rules.rulebook import load_rulebook
from tests.unit.rules.gardens import RandomGarden, spoil
from tests.unit.rules.twin import as_json, ask_phone, corpus

SHAPES = (
    "once_after",
    "repeat_every",
    "withhold",
    "gap",
    "evenness",
    "rest",
    "beside",
    "follow",
    "film",
    "soil_spots",
    "threshold",
    "ladder",
    "scouting",
    "applications",
    "budget",
    "near",
    "progress",
    "nights",
    "balance",
    "uniformity",
    "evaluate",
)
GARDENS = 2000
# Gardens in which something of long ago is not seen, and in which to see it would change an answer.
FEWEST_PAST, FEWEST_CHANGED = 300, 25
SPOILED = 300
# A state that chance never reached was never compared.
FEWEST_OF_A_STATE = 100


@pytest.mark.parametrize("shape", SHAPES)
def test_phone_on_the_corpus_of_a_shape_gives_the_agreed_findings(shape: str) -> None:
    cases = corpus(shape)
    answers = ask_phone(cases)
    assert [(case["name"], answer) for case, answer in zip(cases, answers, strict=True)] == [
        (case["name"], case["findings"]) for case in cases
    ]


def test_phone_on_the_corpus_of_withheld_gives_the_agreed_answers() -> None:
    cases = corpus("withheld")
    assert ask_phone(cases) == [case["withheld"] for case in cases]


def garden_of(seed: int) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """A question to the phone and the shed's answer; some findings have been answered before."""
    garden = RandomGarden(seed)
    ledger = Ledger()
    ledger.add(garden.entries)
    found = findings_of_garden(ledger, load_rulebook(), garden.today, garden.now)
    if found and seed % 3 == 0:
        before = len(garden.entries)
        for made in garden.chance.sample(found, min(len(found), 3)):
            garden.answer(made["key"])
        ledger.add(garden.entries[before:])
        found = findings_of_garden(ledger, load_rulebook(), garden.today, garden.now)
    question = {"entries": garden.entries, "today": garden.today, "now": garden.now}
    return question, found


def test_phone_and_shed_on_random_gardens_give_identical_findings(
    capsys: pytest.CaptureFixture[str],
) -> None:
    rulebook = load_rulebook()
    told = [garden_of(seed) for seed in range(GARDENS)]
    answers = ask_phone([{"rulebook": rulebook}, *(question for question, _ in told)])[1:]
    states: Counter[str] = Counter()
    rules: Counter[str] = Counter()
    for seed, ((_, found), answer) in enumerate(zip(told, answers, strict=True)):
        if as_json(found) != answer:
            pytest.fail(f"garden {seed}: {json.dumps(found)} on the phone {json.dumps(answer)}")
        states.update(made["state"] for made in found)
        rules.update(made["rule"] for made in found)
    with capsys.disabled():
        print(f"\n{len(told)} random gardens, {states.total()} findings alike on both sides")
    assert set(rules) == {rule["id"] for rule in rulebook["rules"]}
    assert len(states) == 7
    assert min(states.values()) >= FEWEST_OF_A_STATE


def _without_a_past() -> Iterator[tuple[bool, bool]]:
    """Of each garden, whether something is not seen, and whether that changes what is found."""
    rulebook = load_rulebook()
    for seed in range(GARDENS):
        garden = RandomGarden(seed)
        ledger = Ledger()
        ledger.add(garden.entries)
        at = (rulebook, garden.today, garden.now)
        hides = changes = False
        for bed in garden.beds:
            everything = view_of_bed(ledger, bed)
            if everything is None:
                continue
            sees = sight_of(ledger, bed, rulebook, garden.today)
            hides = hides or not all(map(sees, everything["events"]))
            found = findings_of_subject(ledger, ("bed", bed), *at)
            changes = changes or found != evaluate(everything, *at)
        yield hides, changes


def test_random_gardens_have_a_past_that_is_not_seen() -> None:
    hides, changes = zip(*_without_a_past(), strict=True)
    assert sum(hides) >= FEWEST_PAST
    assert sum(changes) >= FEWEST_CHANGED


def test_phone_and_shed_on_odd_values_give_identical_findings() -> None:
    questions = []
    for seed in range(SPOILED):
        garden = RandomGarden(seed)
        ledger = Ledger()
        ledger.add(garden.entries)
        views = [view_of_bed(ledger, bed) for bed in garden.beds]
        views += [view_of_planting(ledger, planting) for planting, _ in garden.plantings]
        chance = Random(seed)
        questions += [
            {"view": as_json(spoil(view, chance)), "today": garden.today, "now": garden.now}
            for view in views
            if view is not None
        ]
    rulebook = load_rulebook()
    answers = ask_phone([{"rulebook": rulebook}, *questions])[1:]
    for asked, answer in zip(questions, answers, strict=True):
        found = evaluate(asked["view"], rulebook, asked["today"], asked["now"])
        assert as_json(found) == answer
    assert len(questions) > SPOILED
