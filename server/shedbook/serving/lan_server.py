"""Serves the app to the local network over HTTPS, with the page that leads phones to trust it."""

import logging
import socket
import ssl
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from flask import Flask

from shedbook.serving.announcing import announced
from shedbook.serving.authority import AuthorityError, prepare_certificates, today_utc
from shedbook.serving.lan import Lan
from shedbook.serving.tls_front import BehindFront, TlsFront, server_context
from shedbook.serving.trust_page import create_trust_page
from shedbook.serving.waitress_server import Server, store_of

EVERYWHERE = "0.0.0.0"
LOOPBACK = "127.0.0.1"
HOUR_S = 3600.0
_log = logging.getLogger(__name__)


def serve_lan(
    app: Flask,
    lan: Lan,
    trust_port: int,
    find_addresses: Callable[[], list[str]],
    ready: Callable[[], None],
) -> None:
    """Answer on the network until SIGTERM or Ctrl+C, announced under the addresses of the moment.

    Raises OSError when a port is taken.
    """
    backend = socket.create_server((LOOPBACK, 0))
    context = server_context(lan.certificates.server, lan.certificates.server_key)
    front = TlsFront(context, backend.getsockname())
    server = Server(BehindFront(app, front), sockets=[backend])
    with (
        store_of(app),
        _trust_page(lan, trust_port),
        announced(lan, find_addresses),
        renewing(lan, context),
    ):
        front.start(EVERYWHERE, lan.port)
        try:
            server.run_until_stopped(ready, front.stop_accepting)
        finally:
            front.stop()


@contextmanager
def _trust_page(lan: Lan, port: int) -> Iterator[None]:
    """On plain HTTP, beside the shed: it only hands out the public certificate."""
    page = Server(create_trust_page(lan, port), host=EVERYWHERE, port=port)
    # A daemon: it holds nothing that would have to be finished.
    threading.Thread(target=page.run, name="trust-page", daemon=True).start()
    yield


@contextmanager
def renewing(lan: Lan, context: ssl.SSLContext, every_s: float = HOUR_S) -> Iterator[None]:
    """A shed that runs for a year outlives its server certificate, and a clock may be set late."""
    stopped = threading.Event()

    def renew() -> None:
        while not stopped.wait(every_s):
            try:
                _renew(lan, context)
            except (OSError, AuthorityError) as error:
                # A full disk, say: the next look tries again, a month before it matters.
                _log.warning("certificate not renewed", exc_info=error)

    thread = threading.Thread(target=renew, name="certificates", daemon=True)
    thread.start()
    try:
        yield
    finally:
        stopped.set()
        thread.join()


def _renew(lan: Lan, context: ssl.SSLContext) -> None:
    certificates = prepare_certificates(lan.certificates.folder, lan.host_name, today_utc())
    context.load_cert_chain(certificates.server, certificates.server_key)
