"""`shedbook upgrade`: the tables of an older Shedbook in the form that this one needs."""

import os
import sqlite3
from datetime import datetime
from pathlib import Path

import click
from sqlalchemy import make_url
from sqlalchemy.exc import DBAPIError

from shedbook.cli.log_file import PG_DUMP, log_file_of
from shedbook.cli.opening import DATABASE_URL, data_option
from shedbook.cli.progress import shown
from shedbook.keeping.backup import LogDamaged, write_backup
from shedbook.records.schema import NewerSchema, StoreBehind
from shedbook.serving.app import open_data, upgrade_data


@click.command()
@click.option(
    "--backup-to",
    "archive",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Where the backup goes. Without it: beside the data folder.",
)
@click.option(
    "--backup-taken",
    is_flag=True,
    help="With PostgreSQL, which is copied by its own program: you have done that.",
)
@data_option
def upgrade(archive: Path | None, backup_taken: bool, data: Path | None) -> None:
    """Bring the tables to the form that this version needs, after a backup.

    Stop the shed first: the backup holds nothing that comes in after it. The tables change wholly
    or not at all. To go back, restore the backup into a new folder with the older version.
    """
    url = os.environ.get(DATABASE_URL)
    is_postgresql = url is not None and make_url(url).get_backend_name() != "sqlite"
    log_file = None if is_postgresql else log_file_of(data)
    try:
        if _is_present(data, url):
            click.echo("The tables are as this version needs them. Nothing was changed.")
            return
        if log_file is not None:
            _back_up(log_file, archive or _place_beside(log_file))
        elif not backup_taken:
            raise click.ClickException(
                "Copy PostgreSQL with its own program first, then say so:\n"
                f"  {PG_DUMP}\n  shedbook upgrade --backup-taken"
            )
        before, after = upgrade_data(data, url)
    except NewerSchema as error:
        raise click.ClickException(str(error)) from error
    except DBAPIError as error:
        raise click.ClickException(
            f"Nothing was upgraded: {error.orig}. The tables are as before; the backup is whole."
        ) from error
    click.echo(f"Upgraded the tables from {before} to {after}.")


def _is_present(data: Path | None, url: str | None) -> bool:
    try:
        open_data(data, url)
    except StoreBehind:
        return False
    return True


def _place_beside(log_file: Path) -> Path:
    """Not in the data folder: whoever clears that away by mistake keeps the backup."""
    folder = log_file.resolve().parent
    at = datetime.now().astimezone().strftime("%Y-%m-%d-%H%M%S")
    return folder.parent / f"{folder.name}-before-upgrade-{at}.zip"


def _back_up(log_file: Path, archive: Path) -> None:
    if archive.exists():
        raise click.UsageError(f"{archive} exists already. Choose another name.")
    try:
        with shown("Copying") as show:
            write_backup(log_file, archive, show)
    except LogDamaged as error:
        raise click.ClickException(f"Nothing was upgraded. {error}") from error
    except (OSError, sqlite3.OperationalError) as error:
        raise click.ClickException(
            f"Nothing was upgraded, because no copy could be made: {error}. Name another place "
            "with --backup-to."
        ) from error
    click.echo(f"Wrote the backup {archive}.")
