"""A shed to be measured, and phones that keep their connection open as a browser does."""

import gzip
import http.client
import json
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.api.builders import HEADERS, Phone
from tests.benchmarks.log_entries import Entry, json_text
from tests.sync.process import REQUEST_S, ROOT, ShedProcess, SocketPhone

# The shed as it is served, and one address more that lets a phone in and does nothing else.
SERVER = """
import sys
from pathlib import Path
from flask import Blueprint
from shedbook.api.access import EVERY_ROLE
from shedbook.api.endpoint import endpoint
from shedbook.serving.app import Config, create_app, open_data
from shedbook.serving.waitress_server import serve_forever

@endpoint("Nothing, for a paired device.", allow=EVERY_ROLE)
def nothing(call):
    return None

app = create_app(Config(open_data(Path(sys.argv[1]))))
empty = Blueprint("empty", __name__)
empty.post("/api/gardens/<garden>/empty")(nothing)
app.register_blueprint(empty)
serve_forever(app, "127.0.0.1", int(sys.argv[2]))
"""
STATUS_FOLDER = Path("/proc")


class BenchShed(ShedProcess):
    """The server as a process of its own, which tells how much memory it holds."""

    program = SERVER

    def resident_bytes(self) -> int:
        """Memory of the server that lies in RAM now, as the kernel tells it."""
        assert self._process is not None
        status = (STATUS_FOLDER / str(self._process.pid) / "status").read_text()
        line = next(line for line in status.splitlines() if line.startswith("VmRSS:"))
        return int(line.split()[1]) * 1024

    def cpu_s(self) -> float:
        """Seconds for which the server's threads have run on a core, as the kernel tells it."""
        assert self._process is not None
        threads = (STATUS_FOLDER / str(self._process.pid) / "task").glob("*/schedstat")
        return sum(int(one.read_text().split()[0]) for one in threads) / 1e9


class KeptConnection:
    """A paired phone with one connection for all its requests; bodies are given ready to send."""

    def __init__(self, shed: ShedProcess, paired: SocketPhone) -> None:
        self.pen: Phone = paired.pen
        self._base = f"/api/gardens/{shed.garden}"
        self._headers = HEADERS | {
            "Content-Type": "application/json",
            "Accept-Encoding": "gzip",
            "Cookie": paired.cookie,
        }
        self._connection = http.client.HTTPConnection("127.0.0.1", shed.port, timeout=REQUEST_S)

    def post(self, path: str, body: bytes) -> bytes:
        """The answer's bytes as they were on the wire; fails unless the request succeeded."""
        return self._ask("POST", path, body)

    def get(self, path: str) -> bytes:
        """GET, otherwise as `post`."""
        return self._ask("GET", path, None)

    def close(self) -> None:
        """Let go of the connection."""
        self._connection.close()

    def _ask(self, method: str, path: str, body: bytes | None) -> bytes:
        self._connection.request(method, self._base + path, body, self._headers)
        response = self._connection.getresponse()
        wire = response.read()
        assert response.status < 300, wire[:400]
        return wire


def sync_body(phone: Phone, entries: Sequence[Entry], cursor: int, **more: Any) -> bytes:
    """The body of one exchange."""
    body = {
        "notebook": phone.notebook,
        "entries": list(entries),
        "cursor": cursor,
        "waiting": 0,
        **more,
    }
    return json_text(body).encode()


def read_answer(wire: bytes) -> dict[str, Any]:
    """What an answer says, compressed or not."""
    is_compressed = wire[:2] == b"\x1f\x8b"
    answer: dict[str, Any] = json.loads(gzip.decompress(wire) if is_compressed else wire)
    return answer


@contextmanager
def a_shed() -> Iterator[BenchShed]:
    """A new shed that serves; it ends, and its folder goes, whatever happens."""
    build = ROOT / "build"
    build.mkdir(exist_ok=True)
    # Under build/, since the system's folder of temporary files may not be a disk at all.
    with tempfile.TemporaryDirectory(dir=build, prefix="benchmark-") as folder:
        shed = BenchShed(Path(folder))
        try:
            shed.start()
            yield shed
        finally:
            shed.close()
