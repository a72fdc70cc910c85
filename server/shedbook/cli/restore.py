"""`shedbook restore`: a shed out of a backup, in a folder of its own."""

import os
from pathlib import Path

import click

from shedbook.cli.opening import DATABASE_URL, data_option, open_shed
from shedbook.cli.progress import shown
from shedbook.keeping.archive import ArchiveUnfit
from shedbook.keeping.restore import begin_anew, unpacked
from shedbook.keeping.staging import FolderInUse
from shedbook.places import default_data_folder
from shedbook.records.models import db
from shedbook.records.refusals import CannotWrite
from shedbook.records.schema import NewerSchema
from shedbook.serving.app import Config, create_app, open_data, upgrade_data

PG_RESTORE = 'pg_restore --clean --if-exists --dbname="$DATABASE_URL" shedbook.dump'


@click.command()
@click.argument(
    "archive", required=False, type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
@click.option(
    "--new-epoch",
    is_flag=True,
    help="The store was put back by other means, such as pg_restore: only tell the phones so.",
)
@data_option
def restore(archive: Path | None, new_epoch: bool, data: Path | None) -> None:
    """Unpack ARCHIVE into an empty or new data folder.

    Every phone then pulls the log again from its start, and sends what it wrote after the backup. A
    backup of an older Shedbook is upgraded on its way; the archive itself stays as it is.
    Nothing is left in the folder when the archive is damaged or the work is stopped.
    """
    if (archive is None) != new_epoch:
        raise click.UsageError("Give either ARCHIVE or --new-epoch.")
    if archive is None:
        with open_shed(data).app_context():
            names = begin_anew()
        click.echo(f"The phones of {_listed(names)} will pull the log again from its start.")
        return
    _refuse_postgresql()
    folder = data or default_data_folder()
    try:
        made_at, names = _restore(archive, folder)
    except (ArchiveUnfit, CannotWrite, FolderInUse, NewerSchema) as error:
        raise click.ClickException(f"Nothing was restored. {error}") from error
    except OSError as error:
        raise click.ClickException(f"Nothing was restored: {error}.") from error
    click.echo(
        f"Restored {_listed(names)} into {folder}, as of {made_at}.\n"
        "Phones pull the log again from its start and send what they wrote since.\n"
        "A device that was revoked after that moment is paired again: look at the list of devices."
    )


def _restore(archive: Path, folder: Path) -> tuple[str, list[str]]:
    with shown("Unpacking") as show, unpacked(archive, folder, show) as restored:
        # The archive stays as it is, and is itself the backup of what is upgraded here.
        upgrade_data(restored.folder)
        app = create_app(Config(open_data(restored.folder)))
        with app.app_context():
            names = begin_anew()
            # The file is moved next, and must have no reader by then.
            db.session.remove()
            db.engine.dispose()
        return restored.manifest.made_at, names


def _refuse_postgresql() -> None:
    if os.environ.get(DATABASE_URL):
        raise click.ClickException(
            "DATABASE_URL names another store than a folder. Put PostgreSQL back with its own "
            f"program, then tell the phones:\n  {PG_RESTORE}\n  shedbook restore --new-epoch"
        )


def _listed(names: list[str]) -> str:
    return ", ".join(names) or "no garden"
