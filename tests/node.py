"""Asks a script of tests/twins, which runs the phone's own modules in Node: JSON in, JSON out."""

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

PATIENCE_S = 60


def ask_node(script: Path, asked: Any) -> Any:
    """What the script answers to one request on its standard input."""
    command = [shutil.which("node") or "node", str(script)]
    body = json.dumps(asked).encode()
    ran = subprocess.run(command, input=body, capture_output=True, check=False, timeout=PATIENCE_S)
    assert ran.returncode == 0, ran.stderr.decode()
    return json.loads(ran.stdout)
