"""A shed as a process of its own, which can be killed, and phones that reach it over a socket."""

import copy
import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from flask import Flask

from shedbook.records.gardens import create_garden
from shedbook.records.models import db
from shedbook.records.people import invite
from shedbook.serving.app import Config, create_app, open_data
from tests.api.builders import HEADERS, Phone

SERVER = """
import os
import sys
from pathlib import Path
from shedbook.serving.app import Config, create_app, open_data
from shedbook.serving.waitress_server import serve_forever
app = create_app(Config(open_data(Path(sys.argv[1]), os.environ.get("DATABASE_URL"))))
serve_forever(app, "127.0.0.1", int(sys.argv[2]))
"""
ROOT = Path(__file__).parents[2]
PATIENCE_S = 60
REQUEST_S = 30


class ShedProcess:
    """The server on one port over one data folder, or a database elsewhere.

    Its output goes to a file beside the data. A shed that is given a `garden` finds it in the
    database, where another has made it.
    """

    program = SERVER

    def __init__(
        self, folder: Path, database_url: str | None = None, garden: str | None = None
    ) -> None:
        self.data = folder / "data"
        self.output = folder / "output.txt"
        self.port = free_port()
        self.origin = f"http://127.0.0.1:{self.port}"
        self.database_url = database_url
        self.url = open_data(self.data, database_url)
        self._process: subprocess.Popen[bytes] | None = None
        if garden is None:
            with self.opened():
                garden = create_garden("Home", "Europe/Madrid").id
        self.garden = garden

    @contextmanager
    def opened(self) -> Iterator[Flask]:
        """An app of this process over the same store, within its context."""
        app = create_app(Config(self.url))
        with app.app_context():
            try:
                yield app
            finally:
                db.session.remove()
                db.engine.dispose()

    def environment(self) -> dict[str, str]:
        """What the process is started with."""
        kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
        named = {"DATABASE_URL": self.database_url} if self.database_url else {}
        return kept | named | {"PYTHONPATH": str(ROOT / "server")}

    def start(self) -> None:
        """Start the process and wait until it answers."""
        with self.output.open("ab") as output:
            self._process = subprocess.Popen(
                [sys.executable, "-P", "-c", self.program, str(self.data), str(self.port)],
                env=self.environment(),
                stdin=subprocess.DEVNULL,
                stdout=output,
                stderr=output,
            )
        self.wait_until_it_answers()

    def wait_until_it_answers(self) -> None:
        """Fails when the process has ended instead."""
        until = time.monotonic() + PATIENCE_S
        while not self._answers():
            assert self._process is None or self._process.poll() is None, self.output.read_text()
            assert time.monotonic() < until, self.output.read_text()
            time.sleep(0.02)

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
        with self.opened():
            code = invite(self.garden, role, name, 600).code
        return SocketPhone(self, code, name)

    def connect(self) -> socket.socket:
        """A connection of one's own."""
        return socket.create_connection(("127.0.0.1", self.port), timeout=REQUEST_S)

    def _answers(self) -> bool:
        try:
            with urllib.request.urlopen(f"{self.origin}/healthz", timeout=1) as response:
                return bool(response.status == 200)
        except OSError:
            return False


class SocketPhone:
    """A phone; `origin` is where it looks for the shed, which a test may change."""

    def __init__(self, shed: ShedProcess, code: str, name: str) -> None:
        self.origin = shed.origin
        self.cookie = ""
        session = self.post("/api/session", {"code": code, "device_name": f"{name}'s phone"})
        device, person = session["device"]["id"], session["person"]["id"]
        self.pen = Phone(None, shed.garden, device, person)  # type: ignore[arg-type]

    def at(self, origin: str) -> "SocketPhone":
        """Another tab of this phone, which looks for the shed elsewhere."""
        tab = copy.copy(self)
        tab.origin = origin
        return tab

    def post(self, path: str, body: dict[str, Any]) -> dict[str, Any]:
        """One request; OSError when the shed went away meanwhile."""
        request = urllib.request.Request(
            self.origin + path, json.dumps(body).encode(), self.headers(), method="POST"
        )
        with urllib.request.urlopen(request, timeout=REQUEST_S) as response:
            given = response.headers.get("Set-Cookie")
            self.cookie = given.split(";")[0] if given else self.cookie
            answer: dict[str, Any] = json.loads(response.read())
        return answer

    def headers(self) -> dict[str, str]:
        """What every request of the phone carries."""
        return HEADERS | {"Content-Type": "application/json", "Cookie": self.cookie}

    def sync(self, entries: list[dict[str, Any]], cursor: int = 0) -> dict[str, Any]:
        """One exchange."""
        return self.post(self.sync_path, self.sync_body(entries, cursor))

    @property
    def sync_path(self) -> str:
        return f"/api/gardens/{self.pen.garden}/sync"

    def request_bytes(self, entries: list[dict[str, Any]], cursor: int = 0) -> bytes:
        """An exchange as it goes over the wire, for a test that sends it by hand."""
        body = json.dumps(self.sync_body(entries, cursor)).encode()
        named = self.headers() | {"Host": "127.0.0.1", "Content-Length": str(len(body))}
        lines = [f"POST {self.sync_path} HTTP/1.1", *(f"{k}: {v}" for k, v in named.items())]
        return "\r\n".join([*lines, "", ""]).encode() + body

    def sync_body(self, entries: list[dict[str, Any]], cursor: int = 0) -> dict[str, Any]:
        """What an exchange sends."""
        return {
            "notebook": self.pen.notebook,
            "entries": entries,
            "cursor": cursor,
            "waiting": len(entries),
        }


def free_port() -> int:
    """A port that nobody listens at."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
