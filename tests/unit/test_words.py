"""Words: the corpus shared with the phone, and the texts of a finding."""

import json
from pathlib import Path
from typing import Any

import pytest

from shedbook.words import compose, finding_text, load_words, plain_number

CORPUS = Path(__file__).parents[1] / "corpus" / "words.json"
CASES = json.loads(CORPUS.read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_compose_of_a_corpus_case_gives_the_agreed_text(case: dict[str, Any]) -> None:
    text = compose(case["words"], case["key"], case["values"], case["names"], case["zone"])
    assert text == case["text"]


def test_load_words_gives_sorted_keys_of_plain_text() -> None:
    words = load_words()
    assert list(words) == sorted(words)
    assert all(isinstance(text, str) and text for text in words.values())


def test_every_slot_of_the_shipped_words_closes() -> None:
    for key, text in load_words().items():
        assert text.count("{") == text.count("}"), key


def test_finding_text_when_composed_names_rule_reasons_and_source() -> None:
    words = {
        "rule.side_dress.title": "Side-dress",
        "message.once_after.overdue": "Late by {late_days:day|days}.",
        "reason.anchor": "Transplanted {anchor_day}.",
        "caution.label": "The label decides.",
        "date.day": "{day} {month} {year}",
        "date.month.5": "May",
    }
    finding = {
        "rule": "side_dress",
        "message": {"key": "once_after.overdue", "values": {"late_days": 2}},
        "reasons": [{"key": "anchor", "values": {"anchor_day": 20574}}],
    }
    rule = {"source": "common practice, no source", "caution": "label"}
    assert finding_text(words, finding, rule) == {
        "title": "Side-dress",
        "message": "Late by 2 days.",
        "reasons": ["Transplanted 1 May 2026."],
        "source": "common practice, no source",
        "caution": "The label decides.",
    }


def test_plain_number_at_a_half_rounds_away_from_zero() -> None:
    assert [plain_number(value, 1) for value in (0.25, -0.25, 2.0, 19.96)] == [
        "0.3",
        "-0.3",
        "2",
        "20",
    ]
