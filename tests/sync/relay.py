"""A stretch of network between phone and shed that passes requests on and may lose the answers."""

import socket
import socketserver
import struct
import threading
from collections import deque
from types import TracebackType
from typing import Self

from tests.sync.process import REQUEST_S

CHUNK = 65_536
# An RST in place of an orderly end: what a phone sees when its network goes away.
AT_ONCE = struct.pack("ii", 1, 0)


class Relay:
    """`cuts` says for the next connections after how many bytes their answer ends.

    The answer is first read to its end, so that the shed has done all it does at a request. Once
    the list is used up, answers pass.
    """

    def __init__(self, port: int) -> None:
        self.cuts: deque[int] = deque()
        self.lost = 0
        relay = self

        class Passage(socketserver.BaseRequestHandler):
            def handle(self) -> None:
                relay._pass(self.request, port)

        self._server = socketserver.ThreadingTCPServer(("127.0.0.1", 0), Passage)
        self._server.daemon_threads = True
        self.origin = f"http://127.0.0.1:{self._server.server_address[1]}"

    def __enter__(self) -> Self:
        threading.Thread(target=self._server.serve_forever, args=(0.02,), daemon=True).start()
        return self

    def __exit__(
        self,
        _type: type[BaseException] | None,
        _error: BaseException | None,
        _where: TracebackType | None,
    ) -> None:
        self._server.shutdown()
        self._server.server_close()

    def _pass(self, phone: socket.socket, port: int) -> None:
        with socket.create_connection(("127.0.0.1", port), timeout=REQUEST_S) as shed:
            threading.Thread(target=_forward, args=(phone, shed), daemon=True).start()
            answer = b"".join(iter(lambda: shed.recv(CHUNK), b""))
        if self.cuts:
            answer = answer[: self.cuts.popleft()]
            self.lost += 1
            phone.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, AT_ONCE)
        phone.sendall(answer)


def _forward(phone: socket.socket, shed: socket.socket) -> None:
    """Until either goes away; the phone says itself that its connection ends with the answer."""
    try:
        while piece := phone.recv(CHUNK):
            shed.sendall(piece)
    except OSError:
        return
