"""TLS in front of the WSGI server, in the same process.

Waitress speaks plain HTTP on a loopback port; this front ends TLS and passes the bytes on. It adds
no header and believes none: the client's address is known from the front's own source port towards
waitress, which nobody outside can choose. Clients that open a connection and say nothing, trickle
or vanish cost one idle connection each, up to a cap, and never a thread.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
import ssl
import threading
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from time import monotonic
from wsgiref.types import StartResponse, WSGIApplication, WSGIEnvironment

from shedbook.serving.headers import HEADERS

log = logging.getLogger(__name__)

CHUNK_BYTES = 64 * 1024
# Who opens connections in a row must not fill the log.
TOLD_EVERY_S = 60.0


@dataclass(frozen=True)
class Limits:
    """What one client, and all of them together, may hold open. Times in seconds."""

    connections: int = 400
    connections_per_address: int = 40
    handshake_s: float = 10.0
    idle_s: float = 75.0
    # A slow phone needs three minutes for the largest batch; who trickles for longer is no phone.
    unanswered_s: float = 300.0
    stop_s: float = 5.0


def server_context(certificate: Path, key: Path) -> ssl.SSLContext:
    """TLS 1.2 or newer with the shed's certificate."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    context.set_alpn_protocols(["http/1.1"])
    context.load_cert_chain(certificate, key)
    return context


class TlsFront:
    """Accepts TLS connections and passes them to a loopback backend."""

    def __init__(
        self,
        context: ssl.SSLContext,
        backend: tuple[str, int],
        limits: Limits | None = None,
    ) -> None:
        self._context = context
        self._backend = backend
        self._limits = limits or Limits()
        self._client_of_port: dict[int, str] = {}
        self._open_by_address: Counter[str] = Counter()
        self._tasks: set[asyncio.Task[None]] = set()
        self._turned_away = _TurnedAway()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._thread: threading.Thread | None = None
        self._server: asyncio.Server | None = None

    def client_of(self, source_port: int) -> str | None:
        """The address behind a connection that the backend sees from a loopback port."""
        return self._client_of_port.get(source_port)

    def start(self, host: str, port: int) -> int:
        """Listen in a thread of its own; returns the port (chosen when 0 was given)."""
        loop = asyncio.new_event_loop()
        self._loop = loop
        self._thread = threading.Thread(target=loop.run_forever, name="tls-front", daemon=True)
        self._thread.start()
        return asyncio.run_coroutine_threadsafe(self._listen(host, port), loop).result()

    def stop_accepting(self) -> None:
        """Take no new connection; those that are open go on."""
        if self._loop is not None and self._server is not None:
            self._loop.call_soon_threadsafe(self._server.close)

    def stop(self) -> None:
        """Take no new connection, give open ones a moment, then close them."""
        if self._loop is None or self._thread is None:
            return
        asyncio.run_coroutine_threadsafe(self._close(), self._loop).result()
        self._loop.call_soon_threadsafe(self._loop.stop)
        self._thread.join()
        self._loop.close()

    async def _listen(self, host: str, port: int) -> int:
        self._server = await asyncio.start_server(
            self._accept,
            host,
            port,
            limit=CHUNK_BYTES,
        )
        bound: int = self._server.sockets[0].getsockname()[1]
        return bound

    async def _close(self) -> None:
        assert self._server is not None
        self._server.close()
        if self._tasks:
            await asyncio.wait(set(self._tasks), timeout=self._limits.stop_s)
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)

    async def _accept(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        assert task is not None
        self._tasks.add(task)
        address = str(writer.get_extra_info("peername")[0])
        self._open_by_address[address] += 1
        try:
            if self._has_room(address):
                # Only now, so that connections that never shake hands count as open too.
                await writer.start_tls(
                    self._context, ssl_handshake_timeout=self._limits.handshake_s
                )
                await self._pass_on(address, reader, writer)
            else:
                self._turned_away.note()
        except (OSError, TimeoutError, ssl.SSLError, asyncio.CancelledError):
            # The other side went away, or the shed is stopping: nothing is owed to it.
            pass
        finally:
            self._open_by_address[address] -= 1
            self._open_by_address += Counter()  # forgets the addresses that hold nothing
            self._tasks.discard(task)
            writer.close()

    def _has_room(self, address: str) -> bool:
        return (
            self._open_by_address.total() <= self._limits.connections
            and self._open_by_address[address] <= self._limits.connections_per_address
        )

    async def _pass_on(
        self, address: str, reader: asyncio.StreamReader, writer: asyncio.StreamWriter
    ) -> None:
        back_reader, back_writer = await asyncio.open_connection(*self._backend, limit=CHUNK_BYTES)
        port = back_writer.get_extra_info("sockname")[1]
        self._client_of_port[port] = address
        try:
            await self._relay_both(reader, writer, back_reader, back_writer)
            # What the shed has said and the client has not taken yet is only buffered here.
            await asyncio.wait_for(_closed(writer), self._limits.stop_s)
        finally:
            back_writer.close()
            with contextlib.suppress(OSError):
                await back_writer.wait_closed()
            del self._client_of_port[port]

    async def _relay_both(
        self,
        reader: asyncio.StreamReader,
        writer: asyncio.StreamWriter,
        back_reader: asyncio.StreamReader,
        back_writer: asyncio.StreamWriter,
    ) -> None:
        any_byte, answer = _LastSeen(), _LastSeen()
        directions = [
            asyncio.create_task(_copy(reader, back_writer, any_byte)),
            asyncio.create_task(_copy(back_reader, writer, any_byte, answer)),
            asyncio.create_task(any_byte.is_longer_ago_than(self._limits.idle_s)),
            asyncio.create_task(answer.is_longer_ago_than(self._limits.unanswered_s)),
        ]
        try:
            await asyncio.wait(directions, return_when=asyncio.FIRST_COMPLETED)
        finally:
            for direction in directions:
                direction.cancel()
            await asyncio.gather(*directions, return_exceptions=True)


class _TurnedAway:
    """Connections that found no room: the log is told of the first, and then how many it were."""

    def __init__(self) -> None:
        self._count = 0
        self._told_at = -TOLD_EVERY_S

    def note(self) -> None:
        self._count += 1
        now = monotonic()
        if now - self._told_at >= TOLD_EVERY_S:
            log.warning("too many open connections", extra={"facts": {"closed": self._count}})
            self._count, self._told_at = 0, now


class _LastSeen:
    """When something was last seen, and whether that is too long ago."""

    def __init__(self) -> None:
        self.note()

    def note(self) -> None:
        self._at = asyncio.get_running_loop().time()

    async def is_longer_ago_than(self, limit_s: float) -> None:
        """Returns once it is."""
        while (rest_s := self._at + limit_s - asyncio.get_running_loop().time()) > 0:
            await asyncio.sleep(rest_s)


async def _copy(
    source: asyncio.StreamReader, target: asyncio.StreamWriter, *seen: _LastSeen
) -> None:
    while chunk := await source.read(CHUNK_BYTES):
        for one in seen:
            one.note()
        target.write(chunk)
        await target.drain()
        for one in seen:
            one.note()


async def _closed(writer: asyncio.StreamWriter) -> None:
    writer.close()
    await writer.wait_closed()


class BehindFront:
    """WSGI wrapper that restores the scheme and the client's address."""

    def __init__(self, app: WSGIApplication, front: TlsFront) -> None:
        self._app = app
        self._front = front

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Only connections that the front made are served; others are answered 421."""
        address = self._front.client_of(int(environ["REMOTE_PORT"]))
        if address is None:
            plain = [("Content-Type", "text/plain"), *HEADERS.items()]
            start_response("421 Misdirected Request", plain)
            return [b"Reach the shed by its https address.\n"]
        environ["REMOTE_ADDR"] = address
        environ["wsgi.url_scheme"] = "https"
        return self._app(environ, start_response)
