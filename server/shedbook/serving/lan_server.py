"""Serves the app to the local network over HTTPS, with the page that leads phones to trust it."""

import socket
import ssl
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass

from flask import Flask

from shedbook.serving.authority import prepare_certificates, today_utc
from shedbook.serving.lan import Lan, announce
from shedbook.serving.tls_front import BehindFront, TlsFront, server_context
from shedbook.serving.trust_page import create_trust_page
from shedbook.serving.waitress_server import make_server, run_until_stopped

EVERYWHERE = "0.0.0.0"
LOOPBACK = "127.0.0.1"
DAY_S = 86_400.0


@dataclass(frozen=True)
class TrustPage:
    """Where the page lies that leads a phone to trust the shed, and what it says."""

    port: int
    words: Mapping[str, str]


def serve_lan(
    app: Flask,
    lan: Lan,
    trust_page: TrustPage,
    addresses: list[str],
    ready: Callable[[], None],
) -> None:
    """Answer on the network until SIGTERM or Ctrl+C, announced under these addresses, if any.

    Raises OSError when a port is taken.
    """
    backend = socket.create_server((LOOPBACK, 0))
    context = server_context(lan.certificates.server, lan.certificates.server_key)
    front = TlsFront(context, backend.getsockname())
    server = make_server(BehindFront(app, front), sockets=[backend])
    with _served(lan, trust_page), _announced(lan, addresses), renewing(lan, context):
        front.start(EVERYWHERE, lan.port)
        try:
            run_until_stopped(server, ready)
        finally:
            front.stop()


@contextmanager
def _served(lan: Lan, trust_page: TrustPage) -> Iterator[None]:
    """On plain HTTP, beside the shed: it only hands out the public certificate."""
    page_app = create_trust_page(lan, trust_page.port, trust_page.words)
    page = make_server(page_app, host=EVERYWHERE, port=trust_page.port)
    # A daemon: waitress has no way to be stopped from another thread, and holds nothing here.
    threading.Thread(target=page.run, name="trust-page", daemon=True).start()
    yield


@contextmanager
def renewing(lan: Lan, context: ssl.SSLContext, every_s: float = DAY_S) -> Iterator[None]:
    """A shed that runs for a year outlives its server certificate: look at it once a day."""
    stopped = threading.Event()

    def renew() -> None:
        while not stopped.wait(every_s):
            certificates = prepare_certificates(lan.certificates.folder, lan.host_name, today_utc())
            context.load_cert_chain(certificates.server, certificates.server_key)

    thread = threading.Thread(target=renew, name="certificates", daemon=True)
    thread.start()
    try:
        yield
    finally:
        stopped.set()
        thread.join()


@contextmanager
def _announced(lan: Lan, addresses: list[str]) -> Iterator[None]:
    if not addresses:
        yield
        return
    responder = announce(lan, addresses)
    try:
        yield
    finally:
        responder.close()
