"""Behind a reverse proxy that ends TLS with a public certificate.

The client's address is believed only from the one proxy that was named, and then only the address
that this proxy has put last. Everyone else's forwarded headers are dropped before the app sees
them. The shed's name comes from its own fixed origin, never from a header.
"""

from collections.abc import Callable
from ipaddress import ip_address

from flask import Flask

from shedbook.serving.waitress_server import Server, store_of

BELIEVED = ("x-forwarded-for", "x-forwarded-proto")


def is_own_computer(address: str) -> bool:
    """Whether a proxy of this address runs on the shed's own computer."""
    return ip_address(address).is_loopback


def serve_behind(
    app: Flask, proxy: str, host: str, port: int, ready: Callable[[int], None]
) -> None:
    """Answer the proxy's requests until SIGTERM or Ctrl+C; `ready` is told the port.

    Raises OSError when the port is taken or the host is no address of this computer.
    """
    server = Server(
        app,
        host=host,
        port=port,
        trusted_proxy=proxy,
        trusted_proxy_headers=" ".join(BELIEVED),
        clear_untrusted_proxy_headers=True,
    )
    with store_of(app):
        server.run_until_stopped(lambda: ready(server.port))
