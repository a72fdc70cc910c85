"""`shedbook garden`: make a garden, list gardens."""

from pathlib import Path

import click

from shedbook.cli.machine_zone import find_machine_zone
from shedbook.cli.opening import data_option, open_shed
from shedbook.records.gardens import all_gardens, create_garden, is_zone

UNKNOWN_ZONE = "UTC"


@click.group()
def garden() -> None:
    """Make a garden, or list the gardens of this shed."""


@garden.command("new")
@click.argument("name")
@click.option("--zone", help="Time zone of the garden, such as Europe/Madrid. Else this machine's.")
@data_option
def new(name: str, zone: str | None, data: Path | None) -> None:
    """Make an empty garden called NAME."""
    told_zone = check_zone(zone)
    with open_shed(data).app_context():
        made = create_garden(name, told_zone)
        click.echo(f"Made the garden {made.name} ({made.zone}).")
        click.echo(f"Its id is {made.id}.")
    click.echo("Sign in with: shedbook sign-in")


@garden.command("list")
@data_option
def list_gardens(data: Path | None) -> None:
    """List the gardens: id, name, zone, and how many entries each holds."""
    with open_shed(data).app_context():
        found = all_gardens()
        for one in found:
            click.echo(f"{one.id}  {one.name}  {one.zone}  {one.head} entries")
    if not found:
        click.echo("No garden yet. Make one with: shedbook garden new NAME")


def check_zone(zone: str | None) -> str:
    """The zone that was asked for, if it is one, else the machine's own."""
    if zone is None:
        found = find_machine_zone()
        if found is None:
            click.echo(
                f"This machine does not tell its time zone, so the garden takes {UNKNOWN_ZONE}. "
                "Set another in the garden's settings.",
                err=True,
            )
        return found or UNKNOWN_ZONE
    if not is_zone(zone):
        raise click.BadParameter(
            f"{zone} is no time zone. Write it like Europe/Madrid.", param_hint="--zone"
        )
    return zone
