"""Asks the phone's half of the log, in one Node process for a whole list of requests."""

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

RUNNER = Path(__file__).parent / "twins" / "log.mjs"


def ask_phone(requests: list[dict[str, Any]]) -> list[Any]:
    """The phone's answer to each request; an error as {"error": text}."""
    lines = "".join(json.dumps(request) + "\n" for request in requests)
    command = [shutil.which("node") or "node", str(RUNNER)]
    ran = subprocess.run(command, input=lines.encode(), capture_output=True, check=False)
    assert ran.returncode == 0, ran.stderr.decode()
    answers = [json.loads(line) for line in ran.stdout.decode().splitlines()]
    assert len(answers) == len(requests)
    return [one if "error" in one else one["answer"] for one in answers]
