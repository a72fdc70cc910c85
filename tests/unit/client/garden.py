"""Asks the parts of the phone's running garden that need no browser."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from shedbook.log.describe import describe_kinds
from shedbook.log.moment import DAY_SECONDS
from shedbook.rules.rulebook import load_rulebook
from tests.builders import START
from tests.node import ask_node

RUNNER = Path(__file__).parents[2] / "twins" / "garden.mjs"
NOW = START + 3600
TODAY = NOW // DAY_SECONDS


@cache
def kinds() -> list[dict[str, Any]]:
    """The kinds as the shed describes them to the phone."""
    described: list[dict[str, Any]] = describe_kinds()["kinds"]
    return described


def ask(request: dict[str, Any]) -> dict[str, Any]:
    """The answer of tests/twins/garden.mjs."""
    told: dict[str, Any] = ask_node(RUNNER, {"kinds": kinds()} | request)
    return told


def stand(entries: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    """What a garden of these entries says, as known right now."""
    fixed = {"rulebook": load_rulebook(), "day": TODAY, "now": NOW, "known_at": NOW}
    return ask({"entries": entries, **fixed, **more})
