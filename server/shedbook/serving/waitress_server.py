"""Serves the app by waitress, until the process is told to stop."""

import signal
import threading
from collections.abc import Callable
from types import FrameType
from typing import Any
from wsgiref.types import WSGIApplication

from flask import Flask
from waitress import create_server

THREADS = 8
CONNECTIONS = 400
# Above the app's own limit, whose answer names it in JSON; this one only bounds what is buffered.
BODY_BUFFER_BYTES = 8 * 1024 * 1024


def serve_forever(
    app: Flask, host: str, port: int, ready: Callable[[int], None] | None = None
) -> None:
    """Answer requests until SIGTERM or Ctrl+C; those under way are finished first.

    `ready` is told the port, once connections are taken. Raises OSError when the port is taken.
    """
    server = make_server(app, host=host, port=port)
    run_until_stopped(server, lambda: ready(_port_of(server, port)) if ready else None)


def make_server(app: WSGIApplication, **where: Any) -> Any:
    """Waitress as a shed runs it, already listening; `where` is host and port, or sockets."""
    return create_server(
        app,
        threads=THREADS,
        connection_limit=CONNECTIONS,
        max_request_body_size=BODY_BUFFER_BYTES,
        asyncore_use_poll=True,
        ident=None,
        **where,
    )


def run_until_stopped(server: Any, ready: Callable[[], None]) -> None:
    """Run in this thread until SIGTERM or Ctrl+C; `ready` first."""
    _stop_on_sigterm()
    ready()
    server.run()


def _stop_on_sigterm() -> None:
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGTERM, _leave)


def _leave(_signal: int, _frame: FrameType | None) -> None:
    # Waitress ends its loop on SystemExit and lets its threads finish.
    raise SystemExit(0)


def _port_of(server: Any, asked: int) -> int:
    """The port that was given when 0 was asked for; localhost may listen on two addresses."""
    if asked:
        return asked
    addresses = getattr(server, "effective_listen", None)
    return int(addresses[0][1] if addresses else server.effective_port)
