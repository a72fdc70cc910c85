"""Where the log of a shed lies as a file, for commands that keep it rather than read it."""

import os
from pathlib import Path

import click
from sqlalchemy import make_url

from shedbook.cli.opening import DATABASE_URL
from shedbook.places import LOG_FILE, default_data_folder

PG_DUMP = 'pg_dump --format=custom --file=shedbook.dump "$DATABASE_URL"'


def log_file_of(data: Path | None) -> Path:
    """The SQLite file. Raises click.ClickException when there is none, with what to do instead."""
    url = os.environ.get(DATABASE_URL)
    if url:
        parts = make_url(url)
        if parts.get_backend_name() != "sqlite":
            raise click.ClickException(
                f"This shed keeps its log in PostgreSQL. Copy it with its own program:\n  {PG_DUMP}"
            )
        found = Path(parts.database or "")
    else:
        found = (data or default_data_folder()) / LOG_FILE
    if not found.is_file():
        raise click.ClickException(f"There is no log at {found}. Name its folder with --data.")
    return found
