"""The shed's evaluator on every case that it shares with the phone; the name says what holds."""

from typing import Any

import pytest

from shedbook.rules.evaluate import SHAPES, evaluate
from shedbook.rules.withheld import withheld
from shedbook.words import finding_text, load_words
from tests.unit.rules.twin import as_json, corpus

CASES = [(shape, case) for shape in [*SHAPES, "evaluate"] for case in corpus(shape)]
WITHHELD = corpus("withheld")


@pytest.mark.parametrize(
    ("shape", "case"), CASES, ids=[f"{shape}: {case['name']}" for shape, case in CASES]
)
def test_findings_of_a_case_are_the_agreed_ones(shape: str, case: dict[str, Any]) -> None:
    found = evaluate(case["view"], case["rulebook"], case["today"], case["now"])
    assert as_json(found) == case["findings"]


@pytest.mark.parametrize("case", WITHHELD, ids=[case["name"] for case in WITHHELD])
def test_withheld_of_a_case_is_the_agreed_answer(case: dict[str, Any]) -> None:
    answer = withheld(
        case["findings"], case["kind"], case["now"], case["known_at"], case["stale_after_s"]
    )
    assert answer == case["withheld"]


def test_every_shape_has_cases_of_each_kind_of_answer() -> None:
    for shape in SHAPES:
        found = [case["findings"] for case in corpus(shape)]
        assert [] in found, shape
        assert any(found), shape


def test_every_finding_of_the_corpus_reads_as_text_with_nothing_missing() -> None:
    names = dict.fromkeys(("p0", "p1", "p2", "b1", "u1"), "Marit's row")
    words = load_words()
    missing = words["value.missing"]
    told = set()
    for shape, case in CASES:
        rules = {rule["id"]: rule for rule in case["rulebook"]["rules"]}
        for made in case["findings"]:
            text = finding_text(words, made, rules[made["rule"]], names, "Europe/Madrid")
            for line in [text["title"], text["message"], *text["reasons"]]:
                assert not {"[", "?"} & set(line), (shape, case["name"], line)
                assert missing not in line, (shape, case["name"], line)
                told.add(line)
    assert len(told) > 100
