"""`shedbook pair` and `shedbook sign-in`: one-time codes that let a device in."""

import io
import sys
from pathlib import Path

import click
import segno

from shedbook.cli.opening import ChosenGarden, choose_garden, data_option, garden_option, open_shed
from shedbook.places import default_data_folder
from shedbook.records.people import (
    LEAD_LINK_LIFETIME_S,
    PHONE_CODE_LIFETIME_S,
    ROLES,
    Invited,
    NameTaken,
    invite,
    pairing_link,
    people_of,
)
from shedbook.serving.origin import find_origin

DEFAULT_ORIGIN = "http://localhost:8080"
DEFAULT_LEAD = "Lead"

origin_option = click.option(
    "--origin",
    metavar="ADDRESS",
    help="Where the shed is reached, as phones write it; known once --lan or a proxy fixed it.",
)


@click.command()
@click.option("--name", required=True, help="Whose device it will be.")
@click.option(
    "--role",
    type=click.Choice(ROLES),
    default="helper",
    show_default=True,
    help="What that person may do.",
)
@origin_option
@garden_option
@data_option
def pair(name: str, role: str, origin: str | None, wanted: str | None, data: Path | None) -> None:
    """Print a one-time code that pairs a phone, with its link as a QR code."""
    with open_shed(data).app_context():
        invited = invite_named(choose_garden(wanted), role, name, PHONE_CODE_LIFETIME_S)
    minutes = PHONE_CODE_LIFETIME_S // 60
    click.echo(f"Code for {name} ({role}), good once, for {minutes} minutes:\n")
    click.echo(f"    {grouped(invited.code)}\n")
    print_link(pairing_link(origin or known_origin(data), invited.code))


@click.command("sign-in")
@click.option("--name", help="Which lead; without it, the first of the garden.")
@origin_option
@garden_option
@data_option
def sign_in(name: str | None, origin: str | None, wanted: str | None, data: Path | None) -> None:
    """Print a new one-time link that signs the lead in."""
    with open_shed(data).app_context():
        link = lead_link(choose_garden(wanted), origin or known_origin(data), name)
    hours = LEAD_LINK_LIFETIME_S // 3600
    click.echo(f"One-time sign-in link, good once, for {hours} hours:\n\n    {link}")


def known_origin(data: Path | None) -> str:
    """The origin that was fixed when the shed was opened to others, else this computer's."""
    return find_origin(data or default_data_folder()) or DEFAULT_ORIGIN


def lead_link(garden: ChosenGarden, origin: str, name: str | None = None) -> str:
    """A link that signs a lead in on one browser. Needs an app context."""
    invited = invite_named(garden, "lead", name or first_lead(garden), LEAD_LINK_LIFETIME_S)
    return pairing_link(origin, invited.code)


def first_lead(garden: ChosenGarden) -> str:
    """Name of the garden's lead, the first by name if there are several."""
    leads = [person.name for person in people_of(garden.id) if person.role == "lead"]
    return leads[0] if leads else DEFAULT_LEAD


def invite_named(garden: ChosenGarden, role: str, name: str, lifetime_s: int) -> Invited:
    """An invitation, or the reason in plain words why the name can't have it."""
    try:
        return invite(garden.id, role, name, lifetime_s)
    except NameTaken as error:
        raise click.ClickException(f"{error} Choose another name or that role.") from error


def grouped(code: str) -> str:
    """A short code in two halves, as it is read out; spaces don't matter when it is typed."""
    half = len(code) // 2
    return f"{code[:half]} {code[half:]}"


def print_link(link: str) -> None:
    """The link, and the same as a QR code where the terminal can draw one."""
    click.echo(f"    {link}\n")
    drawn = io.StringIO()
    segno.make(link, error="m").terminal(out=drawn, border=2, compact=True)
    encoding = sys.stdout.encoding or "ascii"
    try:
        drawn.getvalue().encode(encoding)
    except UnicodeEncodeError:
        return
    click.echo(drawn.getvalue())
