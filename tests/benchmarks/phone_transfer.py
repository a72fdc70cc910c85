"""How many bytes a shed sends to a phone that comes for the first time, as they pass on the way."""

import socket
import socketserver
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field

CHUNK = 65_536
PATIENCE_S = 30


@dataclass
class Passed:
    """The address to go by, and what has come back from the shed since."""

    origin: str
    counts: list[int] = field(default_factory=list)

    @property
    def bytes(self) -> int:
        """Of all answers so far: heads and packed bodies."""
        return sum(self.counts)


@contextmanager
def counted(port: int) -> Iterator[Passed]:
    """A way to the shed at `port` on which its answers are counted, whoever asked for them."""

    class Passage(socketserver.BaseRequestHandler):
        def handle(self) -> None:
            with socket.create_connection(("127.0.0.1", port), timeout=PATIENCE_S) as shed:
                asking = threading.Thread(target=_pass, args=(self.request, shed), daemon=True)
                asking.start()
                _pass(shed, self.request, passed.counts)

    server = socketserver.ThreadingTCPServer(("127.0.0.1", 0), Passage)
    server.daemon_threads = True
    passed = Passed(f"http://127.0.0.1:{server.server_address[1]}")
    threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
    try:
        yield passed
    finally:
        server.shutdown()
        server.server_close()


def _pass(giver: socket.socket, taker: socket.socket, counts: list[int] | None = None) -> None:
    """Piece by piece until either side ends, and then end the other."""
    with suppress(OSError):
        while piece := giver.recv(CHUNK):
            if counts is not None:
                counts.append(len(piece))
            taker.sendall(piece)
    with suppress(OSError):
        taker.shutdown(socket.SHUT_WR)
