"""`shedbook import`: an export back into an empty garden, or a grower's own table into any."""

from collections.abc import Sequence
from pathlib import Path

import click

from shedbook.api.context import shed
from shedbook.cli.garden import UNKNOWN_ZONE
from shedbook.cli.import_table import import_table
from shedbook.cli.import_weather import import_weather
from shedbook.cli.machine_zone import find_machine_zone
from shedbook.cli.opening import chosen, data_option, garden_option, open_shed
from shedbook.cli.progress import shown
from shedbook.keeping.csv_cells import Writing
from shedbook.keeping.import_log import (
    Exported,
    ImportRefused,
    has_device,
    images_of_export,
    import_log,
    read_export,
)
from shedbook.keeping.import_photos import FoundImages, PhotosUnfit, find_images
from shedbook.records.gardens import all_gardens
from shedbook.records.models import Garden, db

IMPORTED = "Imported garden"

_file = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command("import")
@click.argument("file", required=False, type=_file)
@click.option(
    "--photos",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="With FILE: a folder with the images that `shedbook export --photos` wrote.",
)
@click.option("--csv", "table", type=_file, help="A table of your own instead.")
@click.option("--weather", type=_file, help="A weather station's table, a row a day.")
@click.option(
    "--columns",
    multiple=True,
    metavar="NAME=COLUMN,...",
    help="With --csv: which column is the date, time, bed, planting, plants, kind, or a field. "
    "With --weather: which is the date, low, high, rain, humidity_low, humidity_high, dew_point, "
    "wind, wind_height, sun or radiation.",
)
@click.option("--fixed", multiple=True, metavar="NAME=VALUE,...", help="The same for all rows.")
@click.option("--kinds", multiple=True, metavar="WORD=KIND,...", help="What your words mean.")
@click.option(
    "--units",
    multiple=True,
    metavar="WHAT=UNIT,...",
    help="With --weather: temperature=F, rain=in, wind=km/h|mph|kn, height=ft, sun=min, "
    "radiation=W/m2.",
)
@click.option("--date-format", metavar="FORMAT", help="Such as %d.%m.%Y; else 2026-06-01.")
@click.option("--decimal-comma", is_flag=True, help="Figures are written like 12,5.")
@click.option("--sure", is_flag=True, help="Take rows in though something in them is unusual.")
@click.option("--accept", is_flag=True, help="Don't ask before storing what was shown.")
@garden_option
@data_option
def import_entries(
    file: Path | None,
    photos: Path | None,
    table: Path | None,
    weather: Path | None,
    columns: Sequence[str],
    fixed: Sequence[str],
    kinds: Sequence[str],
    units: Sequence[str],
    date_format: str | None,
    decimal_comma: bool,
    sure: bool,
    accept: bool,
    wanted: str | None,
    data: Path | None,
) -> None:
    """Take in FILE, which `shedbook export` wrote, or a table with --csv or --weather.

    \b
    shedbook import log.jsonl --photos PHOTOS
    shedbook import --csv book.csv --columns date=Day,bed=Where,kind=What,water.volume_l=Amount
    shedbook import --weather station.csv --columns date=Day,low=Tmin,high=Tmax,rain=Rain

    An export goes into an empty garden and gives the same log. A table goes into a garden that has
    its beds: every row is checked and shown first, and either all rows are stored or none.
    """
    if [file, table, weather].count(None) != 2:
        raise click.UsageError("Give one of FILE, --csv FILE and --weather FILE.")
    if photos is not None and file is None:
        raise click.UsageError("--photos goes with FILE.")
    writing = Writing(date_format, decimal_comma)
    with open_shed(data).app_context():
        if weather is not None:
            told = (weather, wanted, columns, fixed, units, writing)
            import_weather(*told, sure=sure, accept=accept)
        elif table is not None:
            import_table(table, wanted, columns, fixed, kinds, writing, sure=sure, accept=accept)
        elif file is not None:
            _import_export(file, photos, wanted)


def _import_export(file: Path, photos: Path | None, wanted: str | None) -> None:
    try:
        exported = read_export(file)
        images = _find_images(exported, photos)
        replaced = _find_replaced(exported, wanted)
        name = replaced.name if replaced else IMPORTED
        zone = replaced.zone if replaced else find_machine_zone() or UNKNOWN_ZONE
        instead_of = replaced.id if replaced else None
        with shown("Taking in") as show:
            garden = import_log(
                exported, name, zone, instead_of=instead_of, images=images, show=show
            )
    except ImportRefused as error:
        raise click.ClickException(f"Nothing was imported.\n{error}") from error
    if images is not None:
        _tell_images(images)
    click.echo(
        f"Took in {len(exported.entries)} entries of {garden.name}"
        f"{f', and {len(exported.set_aside)} that were set aside' if exported.set_aside else ''}.\n"
        "An export has no names of people and no devices: pair the phones again.\n"
        "Sign in with: shedbook sign-in"
    )


def _find_images(exported: Exported, folder: Path | None) -> FoundImages | None:
    if folder is None:
        return None
    try:
        with shown("Looking at photos") as show:
            return find_images(folder, images_of_export(exported), shed().photo_limit_bytes, show)
    except PhotosUnfit as error:
        raise ImportRefused(str(error)) from error


def _tell_images(images: FoundImages) -> None:
    click.echo(f"Took in {len(images.files)} photos.")
    if images.missing:
        click.echo(f"{len(images.missing)} photos of the log are not in the folder.")
    for file in images.others:
        click.echo(f"Left {file.name}: the log names no such image.")


def _find_replaced(exported: Exported, wanted: str | None) -> Garden | None:
    """The empty garden whose place the imported one takes: a log keeps the id of its garden."""
    gardens = all_gardens()
    if any(garden.id == exported.garden_id for garden in gardens):
        return None
    if wanted is None:
        alone = gardens[0] if len(gardens) == 1 else None
        is_free = alone is not None and not alone.head and not has_device(db.session(), alone.id)
        return alone if is_free else None
    found = [garden for garden in gardens if wanted in (garden.id, garden.name)]
    if len(found) != 1:
        listed = "\n".join(f"  {one.id}  {one.name}" for one in map(chosen, gardens))
        raise click.UsageError(f"Not one garden is called {wanted}. There are:\n{listed}")
    return found[0]
