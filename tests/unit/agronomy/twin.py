"""Asks the same questions of the science in Python and on the phone."""

import importlib
import json
import re
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from shedbook.agronomy.errors import AgronomyError

TESTS = Path(__file__).parents[2]
# A module of the package, a function of it, and the arguments.
Call = tuple[str, str, list[Any]]


def camel(name: str) -> str:
    """The name that a function has in JavaScript."""
    return re.sub(r"_([a-z0-9])", lambda hit: hit[1].upper(), name)


def ask_phone(calls: Sequence[Call]) -> list[dict[str, Any]]:
    """What tests/twins/agronomy.mjs answers, in order."""
    lines = "".join(
        json.dumps({"module": module, "function": camel(function), "args": args}) + "\n"
        for module, function, args in calls
    )
    command = [shutil.which("node") or "node", str(TESTS / "twins" / "agronomy.mjs")]
    ran = subprocess.run(command, input=lines.encode(), capture_output=True, check=False)
    assert ran.returncode == 0, ran.stderr.decode()
    # JavaScript writes a large number without a point; it is the same number all the same.
    return [json.loads(line, parse_int=float) for line in ran.stdout.splitlines()]


def ask_shed(calls: Sequence[Call]) -> list[dict[str, Any]]:
    """The same answers from the Python half."""
    return [_answer(*call) for call in calls]


def _answer(module: str, function: str, args: list[Any]) -> dict[str, Any]:
    try:
        value = getattr(importlib.import_module(f"shedbook.agronomy.{module}"), function)(*args)
    except AgronomyError as error:
        return {"refused": [type(error).__name__, error.name, error.value, error.limit]}
    return {"value": value._asdict() if hasattr(value, "_asdict") else value}


def differing(calls: Sequence[Call]) -> list[tuple[Call, Any, Any]]:
    """The calls whose two answers are not the same to the last bit."""
    answers = zip(calls, ask_shed(calls), ask_phone(calls), strict=True)
    return [(call, shed, phone) for call, shed, phone in answers if shed != phone]
