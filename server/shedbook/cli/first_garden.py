"""What a shed says when it opens, and the garden that its first start makes."""

import getpass

import click

from shedbook.cli.garden import check_zone
from shedbook.cli.opening import chosen
from shedbook.cli.pair import DEFAULT_LEAD, lead_link
from shedbook.records.gardens import all_gardens, create_garden

FIRST_GARDEN = "My garden"


def first_link(origin: str) -> str | None:
    """Makes the first garden and its lead's link; None when there is a garden already."""
    if all_gardens():
        return None
    return lead_link(chosen(create_garden(FIRST_GARDEN, check_zone(None))), origin, _user_name())


def tell_open(origin: str, link: str | None) -> None:
    """What the person at the terminal needs to begin."""
    if link:
        click.echo(f"Made a garden. Sign in with this link, good once:\n\n    {link}\n")
    click.echo(f"The shed is open at {origin} (stop it with Ctrl+C).")


def _user_name() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return DEFAULT_LEAD
