"""Every screen says in plain words what it is for, in each language."""

import re

import pytest

from shedbook import places
from shedbook.words import load_words

SCREENS = (places.CLIENT / "screens" / "page.js").read_text(encoding="utf-8")
# A short code's address shows the screen of what it stands for.
WITHOUT_HELP = {"t"}


def screens() -> list[str]:
    table = SCREENS.split("Object.entries({")[1].split("}),")[0]
    return re.findall(r"^\s+\"?([\w-]+)\"?[,:]", table, re.MULTILINE)


def test_table_of_screens_is_read() -> None:
    assert {"round", "bed", "next-season", "start", "walk"} <= set(screens())


@pytest.mark.parametrize(
    "language", sorted(path.stem for path in (places.CLIENT / "words").glob("*.json"))
)
@pytest.mark.parametrize("screen", sorted(set(screens()) - WITHOUT_HELP))
def test_every_screen_has_help_in_each_language(screen: str, language: str) -> None:
    assert load_words(language).get(f"help.{screen}", "").endswith(".")
