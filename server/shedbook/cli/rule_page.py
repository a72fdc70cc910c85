"""The rule book as pages: what each rule reckons, with its numbers, source and caution."""

from collections.abc import Iterator, Mapping
from typing import Any

from shedbook.crops import load_crops, load_sources
from shedbook.rules.rulebook import load_rulebook
from shedbook.words import Words, compose, load_words

NO_SOURCE = "common practice, no source"
INDEX, FACTS, SOURCES = "README.md", "crop-facts.md", "../sources.md"
_MADE = "*Made by `shedbook rules --pages`; edit the rows, not this page.*"

Rule = Mapping[str, Any]


def pages() -> dict[str, str]:
    """Every page by its name within docs/rules, the list of sources beside that folder."""
    rules = load_rulebook()["rules"]
    words = load_words()
    made = {f"{rule['id']}.md": page(rule, words) for rule in rules}
    return made | {
        INDEX: _index(rules, words),
        FACTS: _crop_facts(words),
        SOURCES: _source_list(),
    }


def page(rule: Rule, words: Words) -> str:
    """One rule as Markdown."""
    return _text(
        [
            f"# {title(rule, words)}",
            _MADE,
            f"`{rule['id']}`, of the shape `{rule['shape']}`, about a {_about(rule)}.",
            "## How it is reckoned",
            words[f"shape.{rule['shape']}"],
            *_section("## Its numbers", _numbers(rule)),
            *_section("## What it advises", _advice(rule, words)),
            *_section("## Where they come from", [citation(rule["source"])]),
            *_section("## Caution", _caution(rule, words)),
        ]
    )


def title(rule: Rule, words: Words) -> str:
    """The rule's name as people read it."""
    return words[f"rule.{rule['id']}.title"]


def citation(source: str) -> str:
    """A source key with what it stands for, and what the row says beside it."""
    key, comma, where = source.partition(",")
    known = load_sources().get(key)
    if known is None:
        return f"{source[0].upper()}{source[1:]}."
    return f"`{key}`: {known}{f' Used:{where}.' if comma else ''}"


def _caution(rule: Rule, words: Words) -> list[str]:
    return [words[f"caution.{rule['caution']}"]] if "caution" in rule else []


def _about(rule: Rule) -> str:
    about = "bed or a planting" if rule["subject"] == "both" else str(rule["subject"])
    crops = [*rule.get("crops", []), *rule.get("families", [])]
    return f"{about} ({', '.join(crops)})" if crops else about


def _section(heading: str, lines: list[str]) -> list[str]:
    return [heading, *lines] if lines else []


def _numbers(rule: Rule) -> list[str]:
    """The row's own words; plain numbers can be replaced in the settings of a garden."""
    rows = [
        f"| `{name}` | {_shown(value)} | {_own(rule, name, value)} |"
        for name, value in rule["params"].items()
    ]
    heads = ["| name | value | name in a garden's own thresholds |", "|---|---|---|"]
    return ["\n".join([*heads, *rows])] if rows else []


def _advice(rule: Rule, words: Words) -> list[str]:
    advises = rule.get("advises")
    return [compose(words, f"reason.advice.{rule['id']}", advises)] if advises else []


def _own(rule: Rule, name: str, value: Any) -> str:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return f"`{rule['id']}.{name}`" if is_number else "–"


def _shown(value: Any) -> str:
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {_shown(item)}" for key, item in value.items())
    if isinstance(value, list):
        return "; ".join(_shown(item) for item in value)
    return str(value)


def _index(rules: list[Rule], words: Words) -> str:
    listed = [f"- [{title(rule, words)}]({rule['id']}.md) (`{rule['shape']}`)" for rule in rules]
    return _text(
        [
            "# The rules",
            _MADE,
            "One page for each row of the rule book. Numbers of crops stand in "
            f"[crop facts]({FACTS}), sources in [one list]({SOURCES}).",
            "\n".join(listed),
        ]
    )


def _crop_facts(words: Words) -> str:
    parts = ["# Facts of crops", _MADE]
    for crop_id, facts in load_crops().items():
        rows = [f"| `{name}` | {_shown(value)} |" for name, value in facts.items()]
        parts.append(f"## {compose(words, f'crop.{crop_id}')}")
        parts.append("\n".join(["| fact | value |", "|---|---|", *rows]))
    return _text(parts)


def _source_list() -> str:
    rows = [f"| `{key}` | {text} |" for key, text in sorted(load_sources().items())]
    return _text(
        [
            "# Sources",
            _MADE.replace("rows", "list"),
            "Each key is what a rule row or a test names. A value from memory is never asserted.",
            "\n".join(["| key | source |", "|---|---|", *rows]),
            f"`{NO_SOURCE}` stands where growers commonly do so and no published "
            "figure\nwas found; such a number is a default that the grower can replace in the "
            "garden's settings.",
        ]
    )


def _text(parts: list[str]) -> str:
    return "\n\n".join(parts) + "\n"


def listing(words: Words) -> Iterator[str]:
    """One line for each rule: its id and its name."""
    for rule in load_rulebook()["rules"]:
        yield f"{rule['id']:<28}{title(rule, words)}"
