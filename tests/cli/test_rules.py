"""`shedbook rules`, and the pages that are made by it."""

from pathlib import Path

import pytest

from shedbook import places
from shedbook.cli.rule_page import citation, pages
from shedbook.rules.evaluate import SHAPES
from shedbook.rules.rulebook import load_rulebook
from shedbook.words import load_words
from tests.cli.conftest import Run

FOLDER = places.ROOT / "docs" / "rules"


def test_pages_in_docs_are_those_that_the_rows_make() -> None:
    made = pages()
    stale = [name for name, text in made.items() if (FOLDER / name).read_text("utf-8") != text]
    assert stale == [], "run: shedbook rules --pages docs/rules"
    kept = {file.name for file in FOLDER.glob("*.md")}
    assert kept == {name for name in made if not name.startswith("..")}


def test_every_shape_says_how_it_is_reckoned() -> None:
    assert {f"shape.{shape}" for shape in SHAPES} <= set(load_words())


@pytest.mark.parametrize("rule", load_rulebook()["rules"], ids=lambda rule: str(rule["id"]))
def test_page_of_a_rule_names_its_source_and_every_number(rule: dict[str, object]) -> None:
    made = pages()[f"{rule['id']}.md"]
    assert citation(str(rule["source"])) in made
    for name in rule["params"]:  # type: ignore[attr-defined]
        assert f"| `{name}` |" in made


def test_rules_lists_each_and_shows_one(run: Run) -> None:
    assert "side_dress" in run("rules").stdout
    shown = run("rules", "side_dress").stdout
    assert "28; 56" in shown
    assert "side_dress.closes_after_days" in shown


def test_rules_of_an_unknown_name_says_how_to_list_them(run: Run) -> None:
    refused = run("rules", "moonlight")
    assert refused.exit_code == 2
    assert "shedbook rules" in refused.output


def test_pages_of_rules_that_are_no_more_are_taken_away(run: Run, tmp_path: Path) -> None:
    (tmp_path / "docs" / "rules").mkdir(parents=True)
    old = tmp_path / "docs" / "rules" / "moonlight.md"
    old.write_text("# Old", encoding="utf-8")
    assert run("rules", "--pages", str(tmp_path / "docs" / "rules")).exit_code == 0
    assert not old.exists()
    assert (tmp_path / "docs" / "sources.md").exists()
