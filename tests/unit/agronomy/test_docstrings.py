"""Every public function of the science says what it takes, gives, refuses, and rests on."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from shedbook import places

PACKAGE = places.ROOT / "server" / "shedbook" / "agronomy"
SECTIONS = ["Parameters", "Returns", "Raises", "Source"]
UNSOURCED = "common practice, no source"
SOURCE_KEY = re.compile(r"^[a-z][a-z0-9-]*")
# What a section may say of each value: `[unit]`, `[-]` for a bare number, or a named kind of value.
ERRORS = {"OutOfRange", "NotEnoughData"}


def public_functions() -> Iterator[tuple[str, ast.FunctionDef]]:
    for file in sorted(PACKAGE.glob("*.py")):
        for node in ast.parse(file.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield f"{file.stem}.{node.name}", node


FUNCTIONS = dict(public_functions())


def sections_of(function: ast.FunctionDef) -> dict[str, list[str]]:
    """The lines below each underlined heading of the docstring, in order."""
    lines = (ast.get_docstring(function) or "").splitlines()
    found: dict[str, list[str]] = {}
    current: list[str] = []
    for line, below in zip(lines, [*lines[1:], ""], strict=True):
        if line and below == "-" * len(line):
            current = found.setdefault(line, [])
        elif line.strip("-"):
            current.append(line)
    return found


def entries_of(lines: list[str]) -> dict[str, str]:
    """Each unindented line, with the indented lines below it as one text."""
    found: dict[str, str] = {}
    head = ""
    for line in lines:
        if line.startswith(" "):
            found[head] = f"{found[head]} {line.strip()}".strip()
        else:
            head = line
            found[head] = ""
    return found


def known_sources() -> set[str]:
    text = (places.ROOT / "docs" / "sources.md").read_text(encoding="utf-8")
    return set(re.findall(r"^\| `([a-z0-9-]+)` \|", text, re.MULTILINE))


def source_keys(lines: list[str]) -> list[str]:
    parts = [part.strip() for line in lines for part in line.split(";")]
    return [hit[0] for part in parts if (hit := SOURCE_KEY.match(part))]


@pytest.mark.parametrize("name", FUNCTIONS)
def test_docstring_has_its_four_sections_in_order(name: str) -> None:
    assert list(sections_of(FUNCTIONS[name])) == SECTIONS


@pytest.mark.parametrize("name", FUNCTIONS)
def test_docstring_names_each_argument_with_its_type_and_what_it_is(name: str) -> None:
    function = FUNCTIONS[name]
    told = entries_of(sections_of(function)["Parameters"])
    asked = [arg.arg for arg in [*function.args.args, *function.args.kwonlyargs]]
    assert [head.partition(" : ")[0] for head in told] == asked
    assert all(head.partition(" : ")[2] and text for head, text in told.items())


@pytest.mark.parametrize("name", FUNCTIONS)
def test_docstring_of_a_number_names_its_unit(name: str) -> None:
    sections = sections_of(FUNCTIONS[name])
    numbers = entries_of(sections["Parameters"]) | entries_of(sections["Returns"])
    without = [
        head
        for head, text in numbers.items()
        if re.search(r"\b(?:float|int)\b", head) and not re.search(r"\[[^\]]+\]", text)
    ]
    assert not without


@pytest.mark.parametrize("name", FUNCTIONS)
def test_docstring_names_the_errors_and_why(name: str) -> None:
    raised = entries_of(sections_of(FUNCTIONS[name])["Raises"])
    assert raised
    assert all(text for text in raised.values())
    assert set(raised) <= ERRORS or set(raised) == {"Nothing"}


@pytest.mark.parametrize("name", FUNCTIONS)
def test_docstring_names_a_source_that_is_listed(name: str) -> None:
    lines = sections_of(FUNCTIONS[name])["Source"]
    if lines == [UNSOURCED]:
        return
    keys = source_keys(lines)
    assert keys
    assert set(keys) <= known_sources()


def test_every_module_but_the_errors_is_looked_at() -> None:
    modules = {Path(file).stem for file in PACKAGE.glob("*.py")} - {"__init__", "errors"}
    assert {name.partition(".")[0] for name in FUNCTIONS} == modules


def test_a_heading_that_is_missing_is_found() -> None:
    function = ast.parse('def f() -> None:\n    """A.\n\n    Returns\n    -------\n    x\n    """')
    assert list(sections_of(function.body[0])) == ["Returns"]  # type: ignore[arg-type]
