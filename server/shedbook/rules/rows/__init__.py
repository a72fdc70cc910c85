"""The rows of the rulebook: TOML files, one table a rule, with what checks them."""

import tomllib
from importlib import resources
from typing import Any


def load_rows() -> dict[str, dict[str, Any]]:
    """Every row that ships, by rule id."""
    rows: dict[str, dict[str, Any]] = {}
    for file in sorted(resources.files(__name__).iterdir(), key=lambda file: file.name):
        if file.name.endswith(".toml"):
            add_rows(rows, file.name, file.read_text(encoding="utf-8"))
    return rows


def add_rows(rows: dict[str, dict[str, Any]], name: str, text: str) -> None:
    """Take in the rows of one file; a rule stands in one place only."""
    for rule_id, row in tomllib.loads(text).items():
        if rule_id in rows:
            raise ValueError(f"{name}: the rule {rule_id} stands in another file already.")
        rows[rule_id] = row
