"""A TLS front with a real waitress behind it, and a client of it."""

import http.client
import json
import socket
import ssl
import threading
import time
from contextlib import closing, contextmanager, suppress
from datetime import UTC, datetime

from waitress.server import create_server

from shedbook.serving.authority import prepare_certificates
from shedbook.serving.tls_front import BehindFront, TlsFront, server_context

PATIENCE_S = 20


def echo_app(environ, start_response):
    """Answers with what the application is told of the client, or as many bytes as were sent."""
    sent = environ["wsgi.input"].read()
    body = (
        sent
        or json.dumps(
            {
                "address": environ["REMOTE_ADDR"],
                "scheme": environ["wsgi.url_scheme"],
                "forwarded": environ.get("HTTP_X_FORWARDED_FOR"),
            }
        ).encode()
    )
    start_response("200 OK", [("Content-Length", str(len(body)))])
    return [body]


@contextmanager
def a_shed(tmp_path, limits=None):
    """A front and its backend; yields (port, client context, backend port, front)."""
    certificates = prepare_certificates(tmp_path, "localhost", datetime.now(UTC))
    backend = socket.create_server(("127.0.0.1", 0))
    address = backend.getsockname()
    front = TlsFront(server_context(certificates.server, certificates.server_key), address, limits)
    waitress = create_server(BehindFront(echo_app, front), sockets=[backend], threads=4)

    def run():
        # Closing waitress from another thread takes its socket from under its loop.
        with suppress(OSError):
            waitress.run()

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    port = front.start("127.0.0.1", 0)
    try:
        context = ssl.create_default_context(cafile=certificates.authority)
        yield port, context, address[1], front
    finally:
        front.stop()
        waitress.close()
        thread.join(5)


def ask(port, context, source="127.0.0.1", body=None, headers=None):
    connection = http.client.HTTPSConnection(
        "localhost", port, context=context, timeout=10, source_address=(source, 0)
    )
    with closing(connection):
        connection.request("POST" if body else "GET", "/", body=body, headers=headers or {})
        return connection.getresponse().read()


def wait_until(is_so, what):
    until = time.monotonic() + PATIENCE_S
    while not is_so():
        assert time.monotonic() < until, what
        time.sleep(0.02)
