"""`shedbook demo`: a garden in the middle of its season, to look around in."""

import importlib
import sys
import tempfile
import threading
import webbrowser
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import click
from flask import Flask

from shedbook import places
from shedbook.cli.machine_zone import find_machine_zone
from shedbook.cli.opening import choose_garden
from shedbook.cli.pair import grouped, invite_named, lead_link
from shedbook.cli.serve import DEFAULT_PORT, listen, origin_of
from shedbook.records.people import PHONE_CODE_LIFETIME_S
from shedbook.serving.app import Config, create_app, open_data

HOST = "localhost"
VISITOR = "Visitor"


@click.command()
@click.option("--port", default=DEFAULT_PORT, show_default=True, type=click.IntRange(0, 65535))
@click.option("--no-open", is_flag=True, help="Don't open a browser.")
def demo(port: int, no_open: bool) -> None:
    """Fill a scratch garden with a season and show it. Nothing of it is kept.

    Port 0 takes any port that is free.
    """
    with tempfile.TemporaryDirectory(prefix="shedbook-demo-", ignore_cleanup_errors=True) as folder:
        app = create_app(Config(_build(Path(folder))))

        def tell(taken: int) -> None:
            link = _tell(app, origin_of(HOST, taken))
            if not no_open:
                threading.Thread(target=webbrowser.open, args=(link,), daemon=True).start()

        listen(app, HOST, port, tell)


def _tell(app: Flask, origin: str) -> str:
    """Print how to come in; the lead's link."""
    with app.app_context():
        garden = choose_garden()
        link = lead_link(garden, origin)
        helper = invite_named(garden, "helper", VISITOR, PHONE_CODE_LIFETIME_S)
    click.echo(f"\nThe demo garden {garden.name} is open at {origin} (stop it with Ctrl+C).\n")
    click.echo(f"  Sign in as the lead, good once:  {link}")
    click.echo(f"  Code for a helper's phone:       {grouped(helper.code)}")
    click.echo("\nIt is a scratch garden: what is written into it goes when you stop it.")
    return link


def _build(folder: Path) -> str:
    url = open_data(folder)
    zone = find_machine_zone() or "UTC"
    now = datetime.now(ZoneInfo(zone))
    with click.progressbar(length=100, label="Writing a season", file=sys.stderr) as bar:

        def show(sent: int, total: int) -> None:
            bar.update(100 * sent // total - bar.pos)

        _seed_demo().build_demo(url, now.date(), int(now.timestamp() * 1000), zone, show)
    return url


def _seed_demo() -> Any:
    """The demo's own package lies beside shedbook, not in it: in the checkout, or in the wheel."""
    beside = str(places.SEED_DEMO.parent)
    if beside not in sys.path:
        sys.path.append(beside)
    return importlib.import_module("seed_demo.send")
