"""A real shed: the server process on a real socket, with a scratch data folder."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from datetime import UTC, datetime
from pathlib import Path

ROOT = Path(__file__).parents[2]
PATIENCE_S = 20
COMMAND = "from shedbook.cli.main import main; main()"
# Codes that live long: a run of all tests takes longer than the ten minutes of a phone's code.
MAKE_GARDEN = """
import json
from shedbook.records.gardens import create_garden
from shedbook.records.people import LEAD_LINK_LIFETIME_S, invite
with app.app_context():
    garden = create_garden("Test garden", ZONE).id
    codes = {
        role: [invite(garden, role, name, LEAD_LINK_LIFETIME_S).code for _ in range(4)]
        for role, name in (("lead", "Lead"), ("helper", "Ana"))
    }
    (data / "codes.json").write_text(json.dumps(codes), encoding="utf-8")
"""
WITH_APP = """
import sys
from pathlib import Path
from shedbook.cli.opening import open_shed
data = Path(sys.argv[1])
app = open_shed(data)
"""


class Shed:
    """The server process on one port with one data folder; it can be stopped and started again."""

    def __init__(self, data: Path, tree: Path = ROOT, client: str = "sources") -> None:
        """`client`: the modules as they are written, which a test may import, or "joined"."""
        self.client = client
        self.data = data
        self.tree = tree
        self.port = free_port()
        self.origin = f"http://localhost:{self.port}"
        self._process: subprocess.Popen[bytes] | None = None
        self._unspent: dict[str, list[str]] | None = None

    def start(self) -> None:
        """Start, and wait until it answers."""
        # A child that inherits the test's own output would hold a failed run open.
        with (self.data.parent / "shed.log").open("ab") as log:
            self._process = subprocess.Popen(
                self._command("serve", "--port", str(self.port)),
                env=self._environment(),
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
            )
        until = time.monotonic() + PATIENCE_S
        while not self._answers():
            if self._process.poll() is not None or time.monotonic() > until:
                raise AssertionError((self.data.parent / "shed.log").read_text(encoding="utf-8"))
            time.sleep(0.05)

    def kill(self) -> None:
        """End it as a power cut does."""
        if self._process is not None:
            self._process.kill()
            self._process.wait(PATIENCE_S)
            self._process = None

    def python(self, code: str) -> str:
        """Run some lines with `app` over the same `data`, for what no command does."""
        ran = subprocess.run(
            [sys.executable, "-c", WITH_APP + code, str(self.data)],
            env=self._environment(),
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, ran.stderr
        return ran.stdout

    def lead_link(self) -> str:
        """A one-time link that pairs a browser of the lead's."""
        return f"{self.origin}/#/join/{self._codes['lead'].pop()}"

    def helper_link(self) -> str:
        """A one-time link that pairs a phone of the helper Ana's."""
        return f"{self.origin}/#/join/{self._codes['helper'].pop()}"

    def make_garden(self) -> None:
        """One empty garden, with a lead and a helper who have some codes each."""
        self.python(f"ZONE = {noon_zone()!r}\n{MAKE_GARDEN}")

    @property
    def _codes(self) -> dict[str, list[str]]:
        if self._unspent is None:
            written = (self.data / "codes.json").read_text(encoding="utf-8")
            self._unspent = json.loads(written)
        return self._unspent

    def _command(self, name: str, *rest: str) -> list[str]:
        return [sys.executable, "-c", COMMAND, name, *rest, "--data", str(self.data)]

    def _environment(self) -> dict[str, str]:
        return {
            **os.environ,
            "PYTHONPATH": str(self.tree / "server"),
            "PYTHONUNBUFFERED": "1",
            "SHEDBOOK_CLIENT": self.client,
        }

    def _answers(self) -> bool:
        try:
            with urllib.request.urlopen(f"{self.origin}/healthz", timeout=1) as answer:
                return bool(answer.status == 200)
        except (urllib.error.URLError, OSError):
            return False


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("localhost", 0))
        port: int = probe.getsockname()[1]
        return port


def noon_zone() -> str:
    """A zone in which it is noon of the day in UTC, so that no run of the tests meets midnight."""
    ahead = 12 - datetime.now(UTC).hour
    return f"Etc/GMT{-ahead:+d}"
