"""`shedbook backup`: a whole copy of the log in one file, while the shed is open."""

import sqlite3
from datetime import datetime
from pathlib import Path

import click

from shedbook.cli.log_file import log_file_of
from shedbook.cli.opening import data_option
from shedbook.cli.progress import shown
from shedbook.keeping.backup import LogDamaged, keep_daily, write_backup

DEFAULT_DAYS = 14

_path = click.Path(path_type=Path)


@click.command()
@click.argument("file", required=False, type=_path)
@click.option(
    "--keep-daily",
    "folder",
    type=click.Path(file_okay=False, path_type=Path),
    help="Keep a copy for each of the last days in FOLDER, and remove older ones.",
    metavar="FOLDER",
)
@click.option(
    "--days",
    type=click.IntRange(1, 3650),
    help=f"With --keep-daily: how many copies to keep; {DEFAULT_DAYS} unless said otherwise.",
)
@data_option
def backup(file: Path | None, folder: Path | None, days: int | None, data: Path | None) -> None:
    """Write all gardens into one archive, as of this moment, while phones go on writing.

    \b
    shedbook backup shed.zip
    shedbook backup --keep-daily BACKUPS --days 30

    The archive holds the whole log: keep it as you keep the data folder. The key by which phones
    trust the shed is not in it.
    """
    if (file is None) == (folder is None):
        raise click.UsageError("Give either FILE or --keep-daily FOLDER.")
    if days is not None and folder is None:
        raise click.UsageError("--days goes with --keep-daily.")
    if file is not None and file.exists():
        raise click.UsageError(f"{file} exists already. Choose another name.")
    log_file = log_file_of(data)
    removed: list[Path] = []
    try:
        with shown("Copying") as show:
            if folder is not None:
                today = datetime.now().astimezone().date()
                file, removed = keep_daily(log_file, folder, days or DEFAULT_DAYS, today, show)
            elif file is not None:
                write_backup(log_file, file, show)
    except LogDamaged as error:
        raise click.ClickException(str(error)) from error
    except (OSError, sqlite3.OperationalError) as error:
        raise click.ClickException(f"No copy was made: {error}.") from error
    click.echo(f"Wrote {file}.")
    for old in removed:
        click.echo(f"Removed {old}.")
