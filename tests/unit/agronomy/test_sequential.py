"""The stop lines of Wald's plan, and what they decide over many rounds of chance."""

from random import Random

import pytest

from shedbook.agronomy.errors import NotEnoughData, OutOfRange
from shedbook.agronomy.sequential import (
    StopLines,
    clean_until_below,
    decision,
    lines_about,
    wald_lines,
)
from tests.unit.agronomy.twin import Call, differing

QUESTIONS = 2000
# Wald's risks are upper limits but for the last step over the line; this leaves room for that.
ROUNDS = 2000
ROOM = 0.03


def _walk(random: Random, share: float, lines: StopLines) -> str:
    """One grower who looks on until the lines decide."""
    affected = looked = 0
    while True:
        looked += 1
        affected += random.random() < share
        answer = decision(affected, looked, 0.2, lines, 100_000)
        if answer != "not_decided":
            return answer


@pytest.mark.parametrize(("share", "wrong"), [(0.1, "above"), (0.3, "below")])
def test_wrong_answers_are_no_more_frequent_than_the_risks_allow(share: float, wrong: str) -> None:
    random = Random(1947)
    lines = wald_lines(0.1, 0.3, 0.1, 0.1)
    answers = [_walk(random, share, lines) for _ in range(ROUNDS)]
    assert answers.count(wrong) / ROUNDS <= 0.1 + ROOM
    assert answers.count(wrong) > 0


def test_lines_lie_about_their_threshold() -> None:
    random = Random(4)
    for _ in range(QUESTIONS):
        threshold = random.uniform(0.001, 0.999)
        lines = lines_about(threshold, random.uniform(0.05, 0.95), 0.1, 0.1)
        assert lines.low < 0 < lines.high
        assert 0 < lines.slope < 1


def test_decision_when_all_are_affected_is_above_and_when_none_is_below_in_the_end() -> None:
    lines = lines_about(0.15, 0.5, 0.1, 0.1)
    assert decision(20, 20, 0.15, lines, 100) == "above"
    assert decision(0, 60, 0.15, lines, 100) == "below"
    assert decision(1, 8, 0.15, lines, 100) == "not_decided"


def test_decision_after_the_most_that_one_looks_at_is_the_share_found() -> None:
    lines = lines_about(0.15, 0.5, 0.1, 0.1)
    assert decision(15, 100, 0.15, lines, 100) == "above"
    assert decision(14, 100, 0.15, lines, 100) == "below"


def test_clean_plants_named_are_just_enough() -> None:
    random = Random(5)
    for _ in range(QUESTIONS):
        threshold = random.choice([0.02, 0.1, 0.2, 0.5])
        lines = lines_about(threshold, 0.5, 0.1, 0.1)
        looked = random.randint(1, 60)
        affected = random.randint(0, looked)
        more = clean_until_below(affected, looked, lines)
        assert decision(affected, looked + more, threshold, lines, 1e9) in ("below", "above")
        if more:
            line = lines.slope * (looked + more - 1) + lines.low
            assert affected > line - 1e-9


@pytest.mark.parametrize(
    "shares", [(0, 0.1, 0.1, 0.1), (0.2, 0.1, 0.1, 0.1), (0.1, 1, 0.1, 0.1), (0.1, 0.2, 0.5, 0.1)]
)
def test_plans_that_make_no_sense_are_refused(shares: tuple[float, float, float, float]) -> None:
    with pytest.raises(OutOfRange):
        wald_lines(*shares)


def test_deciding_on_nothing_is_refused() -> None:
    with pytest.raises(NotEnoughData):
        decision(0, 0, 0.1, lines_about(0.1, 0.5, 0.1, 0.1), 10)


def test_both_halves_agree_to_the_bit() -> None:
    random = Random(6)
    calls: list[Call] = []
    for _ in range(QUESTIONS):
        name = random.choice(["wald_lines", "lines_about"])
        one, other = random.uniform(-0.1, 1.1), random.uniform(-0.1, 1.1)
        risks = [random.choice([0.05, 0.1, 0.5, random.random()]) for _ in range(2)]
        calls.append(("sequential", name, [one, other, *risks]))
    assert not differing(calls)
