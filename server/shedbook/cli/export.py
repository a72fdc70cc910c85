"""`shedbook export`: every entry as JSON Lines, or tables for a spreadsheet."""

import sys
from contextlib import nullcontext
from pathlib import Path

import click

from shedbook.api.names import names_of_garden
from shedbook.cli.opening import ChosenGarden, choose_garden, data_option, garden_option, open_shed
from shedbook.cli.progress import shown
from shedbook.keeping.export import log_lines
from shedbook.keeping.export_csv import Labels, write_tables
from shedbook.keeping.export_photos import write_photos
from shedbook.keeping.staging import FolderInUse, require_free, staged_file
from shedbook.records.ledgers import read_ledger
from shedbook.records.models import db
from shedbook.words import load_words

STANDARD_OUTPUT = Path("-")


@click.command()
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, allow_dash=True, path_type=Path),
    default=STANDARD_OUTPUT,
    help="File to write; without it, the standard output.",
)
@click.option(
    "--csv",
    "folder",
    type=click.Path(file_okay=False, path_type=Path),
    help="Write tables for a spreadsheet into this empty or new folder instead, one a kind.",
)
@click.option(
    "--photos",
    type=click.Path(file_okay=False, path_type=Path),
    help="Write the images of photos into this empty or new folder as well.",
)
@garden_option
@data_option
def export(
    output: Path,
    folder: Path | None,
    photos: Path | None,
    wanted: str | None,
    data: Path | None,
) -> None:
    """Write all entries of a garden, one JSON object a line, in the order they were stored.

    What was set aside comes last: {"set_aside": the entry as it came, "problems": why}. The tables
    of --csv show each entry as it was told last, and leave out what was taken back.
    """
    if folder is not None and output != STANDARD_OUTPUT:
        raise click.UsageError("Give either --output or --csv.")
    with open_shed(data).app_context():
        garden = choose_garden(wanted)
        if photos is not None:
            _require_free(photos)
        if folder is not None:
            _write_tables(garden, folder)
        else:
            _write_log(garden, output)
        if photos is not None:
            _write_photos(garden, photos)


def _write_log(garden: ChosenGarden, output: Path) -> None:
    try:
        with nullcontext() if output == STANDARD_OUTPUT else staged_file(output) as partial:
            count = _write_lines(garden, partial)
    except OSError as error:
        raise click.ClickException(f"Nothing was written to {output}: {error}.") from error
    click.echo(f"{count} entries of {garden.name}.", err=True)


def _write_lines(garden: ChosenGarden, file: Path | None) -> int:
    opened = nullcontext(sys.stdout.buffer) if file is None else file.open("wb")
    count = 0
    with opened as output:
        for line in log_lines(db.session(), garden.id):
            output.write(f"{line}\n".encode())
            count += 1
        output.flush()
    return count


def _write_tables(garden: ChosenGarden, folder: Path) -> None:
    words = load_words()
    labels = Labels(words, names_of_garden(db.session(), garden.id, words))
    try:
        counts = write_tables(read_ledger(garden.id), folder, labels)
    except FolderInUse as error:
        raise click.ClickException(str(error)) from error
    except OSError as error:
        raise click.ClickException(f"Nothing was written to {folder}: {error}.") from error
    for kind, rows in counts.items():
        click.echo(f"{kind}.csv  {rows} rows")


def _require_free(folder: Path) -> None:
    """Before anything is written: the entries must not be there without their photos."""
    try:
        require_free(folder)
    except FolderInUse as error:
        raise click.ClickException(f"Nothing was written. {error}") from error


def _write_photos(garden: ChosenGarden, folder: Path) -> None:
    names = names_of_garden(db.session(), garden.id, load_words())
    ledger = read_ledger(garden.id)
    try:
        with shown("Photos") as show:
            count = write_photos(db.session(), garden.id, ledger, names, folder, show)
    except (FolderInUse, OSError) as error:
        raise click.ClickException(f"No photo was written to {folder}: {error}.") from error
    click.echo(f"{count} photos of {garden.name}.", err=True)
