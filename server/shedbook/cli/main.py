"""The command line: `shedbook`, and what `python3 server` runs."""

from typing import Any

import click

from shedbook.cli.backup import backup
from shedbook.cli.could_be import could_be
from shedbook.cli.demo import demo
from shedbook.cli.due import due
from shedbook.cli.export import export
from shedbook.cli.garden import garden
from shedbook.cli.import_entries import import_entries
from shedbook.cli.pair import pair, sign_in
from shedbook.cli.propose import propose
from shedbook.cli.reckon import reckon
from shedbook.cli.record import record
from shedbook.cli.restore import restore
from shedbook.cli.review import review
from shedbook.cli.rules import rules
from shedbook.cli.scout import scouting
from shedbook.cli.serve import serve
from shedbook.cli.upgrade import upgrade
from shedbook.cli.verify import verify
from shedbook.records.refusals import CannotWrite
from shedbook.version import app_version


class _Shedbook(click.Group):
    """Says in a sentence what any command may meet: a store that takes nothing."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except CannotWrite as error:
            raise click.ClickException(str(error)) from error


@click.group(
    cls=_Shedbook,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(app_version(), message="Shedbook %(version)s")
def main() -> None:
    """Shedbook: a garden's log that works beside the bed, and says what is due.

    Try it with `shedbook demo`. Start your own with `shedbook serve`.
    """


_LIVING = (serve, demo, due, record, garden, pair, sign_in)
_LOOKING = (could_be, reckon, rules, review, scouting, propose)
_KEEPING = (export, import_entries, backup, restore, upgrade, verify)

for command in (*_LIVING, *_LOOKING, *_KEEPING):
    main.add_command(command)
