"""What to say when a shed can't listen where it was told to."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager

import click

OTHER_PORT = 8090
_REASONS = {
    errno.EADDRINUSE: "is used by another program",
    errno.EACCES: "needs more rights than yours",
    errno.EADDRNOTAVAIL: "can't be opened: the address of --host is none of this computer's",
}


@contextmanager
def ports_in_words(what: str, remedy: str) -> Iterator[None]:
    """A port that can't be had ends the command with a sentence."""
    try:
        yield
    except OSError as error:
        if error.errno not in _REASONS:
            raise
        raise click.ClickException(f"{what} {_REASONS[error.errno]}. {remedy}") from error


def another_port(port: int) -> tuple[str, str]:
    """What couldn't be had, and what to try instead, for a shed with one port."""
    return f"Port {port}", f"Choose another with --port, such as {OTHER_PORT}."
