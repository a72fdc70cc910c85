"""`shedbook verify`: reads everything again and says what is not as it should be."""

import os
from pathlib import Path

import click
from sqlalchemy import make_url
from sqlalchemy.exc import DatabaseError

from shedbook.api.context import shed
from shedbook.cli.log_file import log_file_of
from shedbook.cli.opening import DATABASE_URL, data_option, open_shed
from shedbook.cli.progress import shown
from shedbook.keeping.verify import Found, verify_file, verify_garden
from shedbook.records.gardens import all_gardens
from shedbook.records.models import db


@click.command()
@data_option
def verify(data: Path | None) -> None:
    """Read every garden again from its first entry; a difference ends with exit code 1.

    Each entry is read, checked and hashed, numbers are counted, and all that is kept beside the log
    is worked out from nothing and compared. Images are hashed again. Nothing is changed.
    """
    damage = _damage_of_file(data)
    count, images = 0, 0
    try:
        with open_shed(data).app_context():
            for garden_id, name in [(one.id, one.name) for one in all_gardens()]:
                found = _verify(garden_id, name)
                damage += [f"{name}: {one}" for one in found.differences]
                for remark in found.remarks:
                    click.echo(f"{name}: {remark}")
                count += found.entries
                images += found.images
    except DatabaseError as error:
        damage.append(f"The store can't be read: {error.orig}.")
    for one in damage:
        click.echo(one)
    if damage:
        raise click.ClickException(
            f"{len(damage)} differences. Keep your backups, and restore the newest that is whole."
        )
    read = f"{count} entries" + (f" and {images} photos" if images else "")
    click.echo(f"{read} read again: everything is as it was written.")


def _damage_of_file(data: Path | None) -> list[str]:
    url = os.environ.get(DATABASE_URL)
    if url and make_url(url).get_backend_name() != "sqlite":
        return []
    return verify_file(log_file_of(data))


def _verify(garden_id: str, name: str) -> Found:
    with shown(name) as show:
        return verify_garden(db.session(), garden_id, shed().rulebook, show)
