"""What a command that goes on running lets one choose about its log."""

import functools
import sys
from collections.abc import Callable
from typing import Any

import click

from shedbook.serving.logs import FORMATS, LEVELS, start_logging


def log_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Adds --log-level and --log-format, and begins the log before the command does its work."""

    @click.option(
        "--log-level",
        type=click.Choice(LEVELS),
        default="info",
        show_default=True,
        help="The least that goes into the log, which is the error output.",
    )
    @click.option(
        "--log-format",
        type=click.Choice(FORMATS),
        help="How the log is written. Without it: text at a terminal, else JSON lines.",
    )
    @functools.wraps(command)
    def begun(*args: Any, log_level: str, log_format: str | None, **given: Any) -> Any:
        start_logging(log_level, log_format or ("text" if sys.stderr.isatty() else "json"))
        return command(*args, **given)

    return begun
