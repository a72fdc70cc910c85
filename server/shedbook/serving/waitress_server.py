"""Serves the app by waitress, until the process is told to stop."""

import gc
import logging
import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any
from wsgiref.types import WSGIApplication

from flask import Flask
from waitress import create_server, wasyncore
from waitress.server import BaseWSGIServer

from shedbook.records.engine import close_store
from shedbook.records.models import db

THREADS = 8
CONNECTIONS = 400
# Above the app's own limit, whose answer names it in JSON; this one only bounds what each
# connection may have buffered. A phone counts characters, so its largest batch may have 2.1 MB, and
# must hear that it is too large: a connection that is cut tells it nothing.
BODY_BUFFER_BYTES = 4 * 1024 * 1024
# Requests under way have this long when the shed is told to stop.
STOP_S = 10.0
# What was sent before may still be on its way, through the front that ends TLS.
_ARRIVING_S = 1.0
_LOOP_S = 1.0
_DRAIN_LOOP_S = 0.1
_log = logging.getLogger(__name__)


def serve_forever(
    app: Flask, host: str, port: int, ready: Callable[[int], None] | None = None
) -> None:
    """Answer requests until SIGTERM or Ctrl+C; those under way are finished first.

    `ready` is told the port, once connections are taken. Raises OSError when the port is taken.
    """
    server = Server(app, host=host, port=port)
    with store_of(app):
        server.run_until_stopped(lambda: ready(server.port) if ready else None)


@contextmanager
def store_of(app: Flask) -> Iterator[None]:
    """The app's store while the app is served.

    What is wrong with it or with the shed's clock is told to the log at once; at the end all that
    was written lies in the store's one main file.
    """
    with app.app_context():
        shed = app.extensions["shedbook"]
        shed.readiness.find_problems(shed.clock_ms())
    try:
        yield
    finally:
        with app.app_context():
            close_store(db.engine)


class Server:
    """Waitress as a shed runs it, already listening; `where` is host and port, or sockets.

    Its own loop ends at once when it is told to stop, and cuts off who is still sending: so the
    loop is turned here, and turned on until every request under way has its answer.
    """

    def __init__(self, app: WSGIApplication, **where: Any) -> None:
        # Listeners, connections, and what wakes the loop, by file number.
        self._sockets: dict[int, Any] = {}
        self._server = create_server(
            app,
            map=self._sockets,
            threads=THREADS,
            connection_limit=CONNECTIONS,
            max_request_body_size=BODY_BUFFER_BYTES,
            ident=None,
            **where,
        )
        self._listeners = [one for one in self._sockets.values() if isinstance(one, BaseWSGIServer)]
        self._is_stopping = False

    @property
    def port(self) -> int:
        """Where it listens; localhost may be two addresses with one port."""
        return int(self._listeners[0].effective_port)

    def run(self) -> None:
        """Answer requests until the process ends."""
        while not self._is_stopping:
            self._turn(_LOOP_S)

    def run_until_stopped(
        self,
        ready: Callable[[], None],
        stopping: Callable[[], None] = lambda: None,
        stop_s: float = STOP_S,
    ) -> None:
        """Run in this thread until SIGTERM or Ctrl+C; `ready` first, `stopping` when told so."""
        with _told_to_stop(self._stop):
            _log.info("started")
            # What was made until now stays. To go through it again and again in search of what
            # may go took a tenth of the time of answering (docs/performance.md).
            gc.collect()
            gc.freeze()
            ready()
            self.run()
            stopping()
            self._finish(time.monotonic() + stop_s)

    def _stop(self) -> None:
        self._is_stopping = True
        # As a signal may come in the middle of anything, the loop is woken and looks by itself.
        self._listeners[0].pull_trigger()

    def _finish(self, until: float) -> None:
        """Take no new connection, and close each as soon as nothing is under way on it."""
        for listener in self._listeners:
            wasyncore.dispatcher.close(listener)
        self._turn(0)
        while (busy := self._close_idle()) and time.monotonic() < until:
            self._turn(_DRAIN_LOOP_S)
        self._server.task_dispatcher.shutdown(timeout=max(1.0, until - time.monotonic()))
        wasyncore.close_all(self._sockets, ignore_all=True)
        _log.info("stopped", extra={"facts": {"cut_off": busy}})

    def _close_idle(self) -> int:
        """Close what has nothing under way; how many connections still have."""
        busy = 0
        arriving_since = time.time() - _ARRIVING_S
        for listener in self._listeners:
            for channel in list(listener.active_channels.values()):
                is_under_way = channel.requests or channel.request or channel.total_outbufs_len
                if is_under_way or channel.last_activity > arriving_since:
                    busy += 1
                else:
                    channel.handle_close()
        return busy

    def _turn(self, timeout_s: float) -> None:
        wasyncore.loop(timeout=timeout_s, use_poll=True, map=self._sockets, count=1)


@contextmanager
def _told_to_stop(stop: Callable[[], None]) -> Iterator[None]:
    """The first signal asks to stop, the second ends the wait for what is under way."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    count = 0

    def hear(_signal: int, _frame: FrameType | None) -> None:
        nonlocal count
        count += 1
        if count > 1:
            raise KeyboardInterrupt
        stop()

    before = {one: signal.signal(one, hear) for one in (signal.SIGTERM, signal.SIGINT)}
    try:
        yield
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)
