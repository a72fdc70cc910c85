"""What most commands begin with: the data folder, its garden, and a shed over both."""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click
from flask import Flask

from shedbook.records.gardens import all_gardens
from shedbook.records.models import Garden
from shedbook.records.photos import GARDEN_PHOTO_BYTES
from shedbook.records.schema import SchemaUnfit
from shedbook.serving.app import Config, create_app, open_data

DATABASE_URL = "DATABASE_URL"
PHOTO_MB = "SHEDBOOK_PHOTO_MB"
_BYTES_OF_MB = 1_000_000

_Command = Callable[..., Any]

data_option: Callable[[_Command], _Command] = click.option(
    "--data",
    type=click.Path(file_okay=False, path_type=Path),
    help="Data folder. Without it: SHEDBOOK_DATA, else this user's own folder for programs' data.",
)
garden_option: Callable[[_Command], _Command] = click.option(
    "--garden", "wanted", metavar="NAME", help="Which garden, by name or id, where there are more."
)


def open_shed(data: Path | None, origin: str | None = None) -> Flask:
    """The app over a data folder, or the database of DATABASE_URL; an empty one gets tables."""
    try:
        url = open_data(data, os.environ.get(DATABASE_URL))
    except SchemaUnfit as error:
        raise click.ClickException(str(error)) from error
    except OSError as error:
        raise click.ClickException(
            f"{error.filename}: {error.strerror}. Choose another folder with --data."
        ) from error
    return create_app(Config(url, origin, photo_limit_bytes=photo_limit_bytes()))


def photo_limit_bytes() -> int:
    """What all images of a garden may take: SHEDBOOK_PHOTO_MB, or what stands where it is not set.

    Raises click.ClickException.
    """
    told = os.environ.get(PHOTO_MB)
    if not told:
        return GARDEN_PHOTO_BYTES
    if not (told.isascii() and told.isdecimal() and len(told) < 10):
        raise click.ClickException(f"{PHOTO_MB} should be a whole number of MB, such as 2000.")
    return int(told) * _BYTES_OF_MB


@dataclass(frozen=True)
class ChosenGarden:
    """What a command needs of a garden, also after the session that read it has moved on."""

    id: str
    name: str
    zone: str


def choose_garden(wanted: str | None = None) -> ChosenGarden:
    """The garden that was asked for, or the only one there is. Needs an app context."""
    gardens = [chosen(garden) for garden in all_gardens()]
    if not gardens:
        raise click.ClickException(
            "There is no garden here yet. Make one with: shedbook garden new NAME"
        )
    found = [garden for garden in gardens if wanted in (None, garden.name, garden.id)]
    if len(found) == 1:
        return found[0]
    listed = "\n".join(f"  {garden.id}  {garden.name}" for garden in gardens)
    if found:
        raise click.UsageError(f"More than one garden fits. Choose by id with --garden:\n{listed}")
    raise click.UsageError(f"No garden is called {wanted}. There are:\n{listed}")


def chosen(garden: Garden) -> ChosenGarden:
    """The plain values of a stored garden."""
    return ChosenGarden(garden.id, garden.name, garden.zone)
