"""`shedbook serve`: the shed, until it is stopped."""

import errno
import getpass
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import click
from flask import Flask

from shedbook.cli.garden import check_zone
from shedbook.cli.opening import chosen, data_option, open_shed
from shedbook.cli.pair import DEFAULT_LEAD, lead_link
from shedbook.places import default_data_folder
from shedbook.records.gardens import all_gardens, create_garden
from shedbook.serving.authority import fingerprint, today_utc
from shedbook.serving.lan import LanError, own_addresses, prepare_lan
from shedbook.serving.lan_server import TrustPage, serve_lan
from shedbook.serving.waitress_server import serve_forever
from shedbook.words import load_words

FIRST_GARDEN = "My garden"
DEFAULT_PORT = 8080
DEFAULT_TRUST_PORT = 8081
OTHER_PORT = 8090

host_option = click.option(
    "--host", default="localhost", show_default=True, help="Address to listen on."
)


@click.command()
@host_option
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
@data_option
def serve(
    host: str,
    port: int | None,
    lan: bool,
    name: str | None,
    trust_port: int,
    announce: bool,
    data: Path | None,
) -> None:
    """Run the shed: the app for phones and browsers, and the place where their entries meet.

    The first start makes a garden and prints a link that signs you in, once.
    """
    if lan:
        open_to_network(data, name, port, trust_port, is_announced=announce)
        return
    if name:
        raise click.UsageError("--name goes with --lan.")
    port = port or DEFAULT_PORT
    origin = origin_of(host, port)
    app = open_shed(data)
    with app.app_context():
        link = first_link(origin)
    listen(app, host, port, lambda _port: tell_open(origin, link))


def tell_open(origin: str, link: str | None) -> None:
    """What the person at the terminal needs to begin."""
    if link:
        click.echo(f"Made a garden. Sign in with this link, good once:\n\n    {link}\n")
    click.echo(f"The shed is open at {origin} (stop it with Ctrl+C).")


def origin_of(host: str, port: int) -> str:
    """The address as a browser on this machine writes it."""
    if host in {"0.0.0.0", "::", "127.0.0.1", "::1"}:
        host = "localhost"
    return f"http://{host}" if port == 80 else f"http://{host}:{port}"


def listen(app: Flask, host: str, port: int, ready: Callable[[int], None]) -> None:
    """Serve until stopped, `ready` first; a port that can't be had is said in words."""
    with ports_in_words(f"Port {port}", f"Choose another with --port, such as {OTHER_PORT}."):
        serve_forever(app, host, port, ready)


@contextmanager
def ports_in_words(what: str, remedy: str) -> Iterator[None]:
    """A port that can't be had ends the command with a sentence."""
    try:
        yield
    except OSError as error:
        if error.errno not in {errno.EADDRINUSE, errno.EACCES}:
            raise
        taken = error.errno == errno.EADDRINUSE
        reason = "is used by another program" if taken else "needs more rights than yours"
        raise click.ClickException(f"{what} {reason}. {remedy}") from error


def open_to_network(
    data: Path | None, label: str | None, port: int | None, trust_port: int, *, is_announced: bool
) -> None:
    """HTTPS on the local network, under the one name that the shed's phones will know."""
    try:
        lan = prepare_lan(data or default_data_folder(), label, port, today_utc())
    except LanError as error:
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

    trust_page = TrustPage(trust_port, load_words("en"))
    ports = f"Port {lan.port} or {trust_port}"
    with ports_in_words(ports, "Stop that program, or choose another --trust-port."):
        addresses = own_addresses() if is_announced else []
        serve_lan(app, lan, trust_page, addresses, tell)


def first_link(origin: str) -> str | None:
    """Makes the first garden and its lead's link; None when there is a garden already."""
    if all_gardens():
        return None
    return lead_link(chosen(create_garden(FIRST_GARDEN, check_zone(None))), origin, _user_name())


def _user_name() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return DEFAULT_LEAD
