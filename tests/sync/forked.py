"""Sheds that are up at once, so that a test can start several, or kill one often.

Starting Python and loading the packages takes longer than a push. A maker, which has loaded them
and never serves, makes each server as a fork of itself; what is killed is the server.
"""

import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.sync.process import PATIENCE_S, ROOT, ShedProcess

MAKER = """
import json
import json
import os
import signal
import sys
from shedbook.records import engine
from shedbook.serving.app import Config, create_app
from shedbook.serving.logs import start_logging
from shedbook.serving.waitress_server import serve_forever

start_logging("debug", "text")
running = set()
for line in sys.stdin:
    asked = json.loads(line)
    if "ended" in asked:
        running.discard(asked["ended"])
        _, status = os.waitpid(asked["ended"], 0)
        print(os.waitstatus_to_exitcode(status), flush=True)
        continue
    engine.BUSY_SECONDS = asked["busy_seconds"]
    # Made before the fork, but with no connection yet: each server opens its own.
    app = create_app(Config(asked["url"]))
    server = os.fork()
    if not server:
        output = os.open(asked["output"], os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
        os.dup2(output, 1)
        os.dup2(output, 2)
        serve_forever(app, "127.0.0.1", asked["port"])
        sys.exit(0)
    running.add(server)
    print(server, flush=True)
for server in running:
    os.kill(server, signal.SIGKILL)
"""


class Maker:
    """Makes servers and tells how they ended. It speaks JSON lines."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process = process
        self._turn = threading.Lock()

    def ask(self, question: str) -> int:
        """The number that the maker answers with."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        with self._turn:
            self._process.stdin.write(question + "\n")
            self._process.stdin.flush()
            return int(self._process.stdout.readline())


@contextmanager
def running_maker(output: Path) -> Iterator[Maker]:
    """A maker for as long as the block lasts; servers that still run go with it."""
    with output.open("ab") as errors:
        process = subprocess.Popen(
            [sys.executable, "-P", "-c", MAKER],
            env=os.environ | {"PYTHONPATH": str(ROOT / "server")},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=errors,
            text=True,
        )
    try:
        yield Maker(process)
    finally:
        process.communicate(timeout=PATIENCE_S)


class ForkedShed(ShedProcess):
    """Started, ended and killed like any other shed. `busy_seconds` is how long it waits for a
    store that another holds.
    """

    maker: Maker
    busy_seconds: float = 10
    _server: int | None = None

    def start(self) -> None:
        question = {
            "url": self.url,
            "port": self.port,
            "output": str(self.output),
            "busy_seconds": self.busy_seconds,
        }
        self._server = self.maker.ask(json.dumps(question))
        self.wait_until_it_answers()

    def end(self, how: signal.Signals) -> int:
        assert self._server is not None
        os.kill(self._server, how)
        ended, self._server = self._server, None
        return self.maker.ask(json.dumps({"ended": ended}))

    def close(self) -> None:
        if self._server is not None:
            self.end(signal.SIGKILL)
