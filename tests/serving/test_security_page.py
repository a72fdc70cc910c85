"""docs/security.md names the tests that show what it claims; each of them is there."""

import re

from shedbook import places

PAGE = places.ROOT / "docs" / "security.md"
ROW = re.compile(r"^\| .* \|$", re.MULTILINE)


def named_tests(text: str) -> list[str]:
    return re.findall(r"`(tests/[\w/]+\.py)`", text)


def test_every_test_that_the_page_names_is_there() -> None:
    named = named_tests(PAGE.read_text(encoding="utf-8"))
    assert len(named) > 20
    assert [name for name in named if not (places.ROOT / name).is_file()] == []


def test_every_defence_is_shown_by_a_test() -> None:
    text = PAGE.read_text(encoding="utf-8").split("## What is defended")[1].split("\n## ")[0]
    rows = ROW.findall(text)[2:]
    assert len(rows) > 10
    assert [row for row in rows if not named_tests(row)] == []
