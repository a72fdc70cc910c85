"""A shed as a process of its own, which can be killed, and phones that reach it over a socket."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

from shedbook.records.gardens import create_garden
from shedbook.records.people import invite
from shedbook.serving.app import Config, create_app, open_data
from tests.api.builders import HEADERS, Phone

SERVER = """
import sys
from pathlib import Path
from shedbook.serving.app import Config, create_app, open_data
from shedbook.serving.waitress_server import serve_forever
app = create_app(Config(open_data(Path(sys.argv[1]))))
serve_forever(app, "127.0.0.1", int(sys.argv[2]))
"""
ROOT = Path(__file__).parents[2]
PATIENCE_S = 60
REQUEST_S = 30


class ShedProcess:
    """The server on one port over one data folder; its output goes to a file beside it."""

    def __init__(self, folder: Path) -> None:
        self.data = folder / "data"
        self.output = folder / "output.txt"
        self.port = _free_port()
        self.origin = f"http://127.0.0.1:{self.port}"
        self._process: subprocess.Popen[bytes] | None = None
        with create_app(Config(open_data(self.data))).app_context():
            self.garden = create_garden("Home", "Europe/Madrid").id

    def start(self) -> None:
        """Start the process and wait until it answers."""
        with self.output.open("ab") as output:
            self._process = subprocess.Popen(
                [sys.executable, "-P", "-c", SERVER, str(self.data), str(self.port)],
                env=os.environ | {"PYTHONPATH": str(ROOT / "server")},
                stdin=subprocess.DEVNULL,
                stdout=output,
                stderr=output,
            )
        until = time.monotonic() + PATIENCE_S
        while not self._answers():
            assert self._process.poll() is None, self.output.read_text()
            assert time.monotonic() < until, self.output.read_text()
            time.sleep(0.05)

    def end(self, how: signal.Signals) -> int:
        """Send a signal and wait for the end; the exit code."""
        assert self._process is not None
        self._process.send_signal(how)
        code = self._process.wait(PATIENCE_S)
        self._process = None
        return code

    def close(self) -> None:
        """End the process, if it still runs."""
        if self._process is not None:
            self.end(signal.SIGKILL)

    def pair(self, role: str, name: str) -> "SocketPhone":
        """A phone of a person, paired over the socket."""
        with create_app(Config(open_data(self.data))).app_context():
            code = invite(self.garden, role, name, 600).code
        return SocketPhone(self, code, name)

    def _answers(self) -> bool:
        try:
            with urllib.request.urlopen(f"{self.origin}/healthz", timeout=1) as response:
                return bool(response.status == 200)
        except OSError:
            return False


class SocketPhone:
    """A phone that keeps what it has not had an answer for, as the real one does."""

    def __init__(self, shed: ShedProcess, code: str, name: str) -> None:
        self._shed = shed
        self._cookie = ""
        session = self.post("/api/session", {"code": code, "device_name": f"{name}'s phone"})
        device, person = session["device"]["id"], session["person"]["id"]
        self.pen = Phone(None, shed.garden, device, person)  # type: ignore[arg-type]

    def post(self, path: str, body: dict[str, Any]) -> dict[str, Any]:
        """One request; OSError when the shed went away meanwhile."""
        headers = HEADERS | {"Content-Type": "application/json", "Cookie": self._cookie}
        request = urllib.request.Request(
            self._shed.origin + path, json.dumps(body).encode(), headers, method="POST"
        )
        with urllib.request.urlopen(request, timeout=REQUEST_S) as response:
            given = response.headers.get("Set-Cookie")
            self._cookie = given.split(";")[0] if given else self._cookie
            answer: dict[str, Any] = json.loads(response.read())
        return answer

    def sync(self, entries: list[dict[str, Any]], cursor: int = 0) -> dict[str, Any]:
        """One exchange."""
        body = {
            "notebook": self.pen.notebook,
            "entries": entries,
            "cursor": cursor,
            "waiting": len(entries),
        }
        return self.post(f"/api/gardens/{self._shed.garden}/sync", body)


def is_transport_failure(error: Exception) -> bool:
    """Whether an error says that the shed went away, not that it answered badly."""
    return isinstance(error, OSError) and not isinstance(error, urllib.error.HTTPError)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
