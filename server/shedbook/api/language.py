"""In which language a caller reads."""

from flask import request

from shedbook.words import ENGLISH, Words, languages, load_words


def language_of_caller() -> str:
    """The best of our languages that the request accepts (RFC 9110, Accept-Language)."""
    return request.accept_languages.best_match(list(languages()), ENGLISH)


def words_for_caller() -> Words:
    """The words of that language."""
    return load_words(language_of_caller())
