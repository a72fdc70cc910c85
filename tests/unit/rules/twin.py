"""Asks the phone's evaluator: one node process for a whole list of questions."""

import json
import shutil
import subprocess
from collections.abc import Iterable
from pathlib import Path
from typing import Any

TESTS = Path(__file__).parents[2]


def ask_phone(questions: Iterable[Any]) -> list[Any]:
    """The answers of tests/twins/evaluate.mjs, in order."""
    lines = "".join(json.dumps(question) + "\n" for question in questions)
    command = [shutil.which("node") or "node", str(TESTS / "twins" / "evaluate.mjs")]
    ran = subprocess.run(command, input=lines.encode(), capture_output=True, check=False)
    assert ran.returncode == 0, ran.stderr.decode()
    return [json.loads(line) for line in ran.stdout.splitlines()]


def corpus(shape: str) -> list[dict[str, Any]]:
    """The cases of one shape that both evaluators run."""
    text = (TESTS / "corpus" / f"{shape}.json").read_text(encoding="utf-8")
    cases: list[dict[str, Any]] = json.loads(text)
    return cases


def as_json(value: Any) -> Any:
    """The value after a trip over the wire."""
    return json.loads(json.dumps(value))
