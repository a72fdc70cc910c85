"""Every language says everything: a word that is missing in one of them fails here."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from shedbook.words import ENGLISH, languages, load_words

SLOT = re.compile(r"\{([a-z0-9_]+)(:[^{}|]*\|[^{}|]*)?\}")
# A unit right behind a value changes with the person's units, so it must stay there.
MEASURED = re.compile(r"\{([a-z0-9_]+)\} ?(°C|cm²|cm|mm|m²|m/s|mL|m|L/min|L|kg|g)(?![\w²/])")
WORD = re.compile(r"[^\W\d_]{2,}")
OTHERS = [code for code in languages() if code != ENGLISH]


def slots(text: str) -> Counter[tuple[str, bool]]:
    """Each slot by its name, and whether it brings words for one and several."""
    return Counter((name, bool(forms)) for name, forms in SLOT.findall(text))


def test_there_is_more_than_one_language_and_each_has_its_own_name() -> None:
    assert {"en": "English", "es": "Español"}.items() <= languages().items()


@pytest.mark.parametrize("code", OTHERS)
def test_a_language_has_every_word_of_english_and_no_other(code: str) -> None:
    english, own = load_words(ENGLISH), load_words(code)
    assert sorted(english.keys() - own.keys()) == []
    assert sorted(own.keys() - english.keys()) == []
    assert list(own) == sorted(own)


@pytest.mark.parametrize("code", OTHERS)
def test_a_language_fills_in_the_same_values(code: str) -> None:
    english, own = load_words(ENGLISH), load_words(code)
    told = {key: (slots(english[key]), slots(text)) for key, text in own.items()}
    assert {key: both for key, both in told.items() if both[0] != both[1]} == {}


@pytest.mark.parametrize("code", OTHERS)
def test_a_language_keeps_units_right_behind_their_values(code: str) -> None:
    english, own = load_words(ENGLISH), load_words(code)
    found = {
        key: (Counter(MEASURED.findall(english[key])), Counter(MEASURED.findall(text)))
        for key, text in own.items()
    }
    assert {key: both for key, both in found.items() if both[0] != both[1]} == {}


@pytest.mark.parametrize("code", OTHERS)
def test_no_sentence_was_left_in_english(code: str) -> None:
    english, own = load_words(ENGLISH), load_words(code)
    same = [
        key
        for key, text in own.items()
        if text == english[key] and len(WORD.findall(SLOT.sub("", text))) > 2
    ]
    # Names of publications are not translated.
    assert [key for key in same if not key.startswith("source.")] == []
