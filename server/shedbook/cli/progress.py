"""How far long work is, drawn where a person watches and silent elsewhere."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager

import click

from shedbook.keeping.progress import Progress

_STEPS = 1000


@contextmanager
def shown(label: str) -> Iterator[Progress]:
    """A bar that follows what the work tells; it goes to the error output, beside any result."""
    with click.progressbar(length=_STEPS, label=label, file=sys.stderr) as bar:

        def show(done: int, total: int) -> None:
            bar.update(_STEPS * done // max(total, 1) - bar.pos)

        yield show
