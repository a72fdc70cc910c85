"""The command line: `shedbook`, and what `python3 server` runs."""

from importlib import metadata

import click

from shedbook.cli.demo import demo
from shedbook.cli.due import due
from shedbook.cli.export import export
from shedbook.cli.garden import garden
from shedbook.cli.pair import pair, sign_in
from shedbook.cli.record import record
from shedbook.cli.serve import serve


def _version() -> str:
    """The installed version; a checkout that only lies on the path has none."""
    try:
        return metadata.version("shedbook")
    except metadata.PackageNotFoundError:
        return "from a checkout"


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(_version(), message="Shedbook %(version)s")
def main() -> None:
    """Shedbook: a garden's log that works beside the bed, and says what is due.

    Try it with `shedbook demo`. Start your own with `shedbook serve`.
    """


for command in (serve, demo, due, record, garden, pair, sign_in, export):
    main.add_command(command)
