"""In which language a caller reads."""

from flask import request

from shedbook.words import ENGLISH, Words, languages, load_words


def words_for_caller() -> Words:
    """The words of the best language that the request accepts (RFC 9110, Accept-Language)."""
    return load_words(request.accept_languages.best_match(list(languages()), ENGLISH))
