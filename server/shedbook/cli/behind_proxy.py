"""`shedbook serve --behind-proxy`: what it takes to be believed, and where the shed listens."""

from collections.abc import Callable
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path
from typing import Any

import click

from shedbook.cli.first_garden import first_link, tell_open
from shedbook.cli.opening import open_shed
from shedbook.cli.ports import another_port, ports_in_words
from shedbook.places import default_data_folder
from shedbook.serving.origin import OriginError, find_origin, fix_origin, public_origin
from shedbook.serving.proxy import is_own_computer, serve_behind

_Command = Callable[..., Any]


@dataclass(frozen=True)
class Proxied:
    """Which proxy is believed, and where it finds the shed."""

    proxy: str
    host: str
    port: int


def proxy_options(command: _Command) -> _Command:
    """Adds --behind-proxy and --origin."""
    for option in (_ORIGIN, _PROXY):
        command = option(command)
    return command


def where_proxied(proxy: str, host: str | None, port: int) -> Proxied:
    """The shed listens where only its proxy reaches it; a proxy elsewhere needs to be told where.

    Not `localhost`, which is two addresses: the proxy would be believed from one of them only.
    """
    if host is None and not is_own_computer(proxy):
        raise click.UsageError(
            f"{proxy} is another computer. Say with --host which address of this one it reaches."
        )
    return Proxied(proxy, host or proxy, port)


def open_behind_proxy(data: Path | None, origin: str | None, proxied: Proxied) -> None:
    """Serve one named proxy, under the public name that the shed's phones will know."""
    known = _fixed_origin(data or default_data_folder(), origin)
    app = open_shed(data, known)
    with app.app_context():
        link = first_link(known)

    def tell(port: int) -> None:
        click.echo(f"It listens on {proxied.host}, port {port}, and believes {proxied.proxy}.")
        tell_open(known, link)

    with ports_in_words(*another_port(proxied.port)):
        serve_behind(app, proxied.proxy, proxied.host, proxied.port, tell)


def _fixed_origin(folder: Path, asked: str | None) -> str:
    kept = find_origin(folder)
    if asked is None and kept is None:
        raise click.UsageError(
            "The first start behind a proxy needs --origin, the address that phones will know, "
            "such as https://garden.example."
        )
    try:
        origin = public_origin(asked or kept or "")
        fix_origin(folder, origin)
    except OriginError as error:
        raise click.ClickException(str(error)) from error
    return origin


def _one_address(_: click.Context, __: click.Parameter, value: str | None) -> str | None:
    if value is None:
        return None
    try:
        address = ip_address(value)
    except ValueError:
        address = None
    if address is None or address.is_unspecified or address.is_multicast:
        raise click.BadParameter(
            f"{value!r} is no address of one computer. Write the proxy's own, such as 127.0.0.1."
        )
    return str(address)


_PROXY = click.option(
    "--behind-proxy",
    "proxy",
    metavar="ADDRESS",
    callback=_one_address,
    help="The IP address of the reverse proxy that ends HTTPS. It alone is believed.",
)
_ORIGIN = click.option(
    "--origin",
    metavar="ADDRESS",
    help="With --behind-proxy, at the first start: the address that phones know for good.",
)
