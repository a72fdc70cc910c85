"""`shedbook export`: every entry as JSON Lines, so that data can always be got out."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import click

from shedbook.cli.opening import choose_garden, data_option, garden_option, open_shed
from shedbook.records.entries import entries_after, set_aside_entries
from shedbook.records.models import db

PAGE = 2000


@click.command()
@click.option(
    "-o",
    "--output",
    type=click.File("w", encoding="utf-8", lazy=True),
    default="-",
    help="File to write; without it, the standard output.",
)
@garden_option
@data_option
def export(output: IO[str], wanted: str | None, data: Path | None) -> None:
    """Write all entries of a garden, one JSON object a line, in the order they were stored.

    What was set aside comes last: {"set_aside": the entry as it came, "problems": why}.
    """
    count = 0
    with open_shed(data).app_context():
        garden = choose_garden(wanted)
        for line in _lines(garden.id):
            output.write(line + "\n")
            count += 1
    click.echo(f"{count} entries of {garden.name}.", err=True)


def _lines(garden_id: str) -> Iterator[str]:
    session = db.session()
    cursor = 0
    while page := entries_after(session, garden_id, cursor, PAGE):
        yield from page
        cursor = json.loads(page[-1])["seq"]
    for row in set_aside_entries(session, garden_id):
        yield json.dumps(
            {"set_aside": json.loads(row.raw), "problems": json.loads(row.problems)},
        )
