"""`shedbook serve`: the shed, until it is stopped."""

from collections.abc import Callable
from pathlib import Path

import click
from flask import Flask

from shedbook.cli.behind_proxy import open_behind_proxy, proxy_options, where_proxied
from shedbook.cli.first_garden import first_link, tell_open
from shedbook.cli.log_options import log_options
from shedbook.cli.opening import data_option, open_shed
from shedbook.cli.ports import another_port, ports_in_words
from shedbook.places import default_data_folder
from shedbook.serving.announcing import own_addresses
from shedbook.serving.authority import AuthorityError, fingerprint, today_utc
from shedbook.serving.lan import prepare_lan
from shedbook.serving.lan_server import serve_lan
from shedbook.serving.origin import OriginError
from shedbook.serving.waitress_server import serve_forever

DEFAULT_HOST = "localhost"
DEFAULT_PORT = 8080
DEFAULT_TRUST_PORT = 8081


@click.command()
@click.option("--host", help=f"Address to listen on; {DEFAULT_HOST}, or where the proxy is.")
@click.option("--port", type=click.IntRange(1, 65535), help=f"{DEFAULT_PORT}, with --lan 8443.")
@click.option("--lan", is_flag=True, help="Open it to phones on the local network, over HTTPS.")
@click.option("--name", metavar="LABEL", help="With --lan: LABEL.local becomes its name for good.")
@click.option(
    "--trust-port",
    default=DEFAULT_TRUST_PORT,
    show_default=True,
    type=click.IntRange(1, 65535),
    help="With --lan: where the page lies that leads a phone to trust the shed.",
)
@click.option(
    "--announce/--no-announce",
    default=True,
    help="With --lan: make the name known by multicast DNS, or leave that to the network.",
)
@proxy_options
@log_options
@data_option
def serve(
    host: str | None,
    port: int | None,
    lan: bool,
    name: str | None,
    trust_port: int,
    announce: bool,
    proxy: str | None,
    origin: str | None,
    data: Path | None,
) -> None:
    """Run the shed: the app for phones and browsers, and the place where their entries meet.

    The first start makes a garden and prints a link that signs you in, once.
    """
    if lan and proxy:
        raise click.UsageError("--lan and --behind-proxy exclude each other: one name for phones.")
    if lan:
        open_to_network(data, name, port, trust_port, is_announced=announce)
        return
    if name:
        raise click.UsageError("--name goes with --lan.")
    port = port or DEFAULT_PORT
    if proxy:
        open_behind_proxy(data, origin, where_proxied(proxy, host, port))
        return
    if origin:
        raise click.UsageError("--origin goes with --behind-proxy.")
    open_to_computer(data, host or DEFAULT_HOST, port)


def open_to_computer(data: Path | None, host: str, port: int) -> None:
    """Plain HTTP, for a browser on the shed's own computer."""
    origin = origin_of(host, port)
    app = open_shed(data)
    with app.app_context():
        link = first_link(origin)
    listen(app, host, port, lambda _port: tell_open(origin, link))


def origin_of(host: str, port: int) -> str:
    """The address as a browser on this machine writes it."""
    if host in {"0.0.0.0", "::", "127.0.0.1", "::1"}:
        host = "localhost"
    return f"http://{host}" if port == 80 else f"http://{host}:{port}"


def listen(app: Flask, host: str, port: int, ready: Callable[[int], None]) -> None:
    """Serve until stopped, `ready` first; a port that can't be had is said in words."""
    with ports_in_words(*another_port(port)):
        serve_forever(app, host, port, ready)


def open_to_network(
    data: Path | None, label: str | None, port: int | None, trust_port: int, *, is_announced: bool
) -> None:
    """HTTPS on the local network, under the one name that the shed's phones will know."""
    try:
        lan = prepare_lan(data or default_data_folder(), label, port, today_utc())
    except (OriginError, AuthorityError) as error:
        raise click.ClickException(str(error)) from error
    app = open_shed(data, lan.origin)
    with app.app_context():
        link = first_link(lan.origin)

    def tell() -> None:
        click.echo(
            f"A phone must first trust it: http://{lan.host_name}:{trust_port}/ leads through it.\n"
            f"The certificate's fingerprint is\n\n    {fingerprint(lan.certificates.authority)}\n"
        )
        tell_open(lan.origin, link)

    ports = f"Port {lan.port} or {trust_port}"
    with ports_in_words(ports, "Stop that program, or choose another --trust-port."):
        find_addresses = own_addresses if is_announced else list
        serve_lan(app, lan, trust_port, find_addresses, tell)
