"""The time zone of this machine by its name, which Python itself doesn't tell."""

import os
from collections.abc import Iterator
from pathlib import Path

from shedbook.records.gardens import is_zone

_LINK = Path("/etc/localtime")
_NAME = Path("/etc/timezone")


def find_machine_zone() -> str | None:
    """The IANA name, or None where the machine keeps its zone in another way."""
    for name in _told_names():
        if is_zone(name):
            return name
    return None


def _told_names() -> Iterator[str]:
    environment = os.environ.get("TZ", "").removeprefix(":")
    if environment:
        yield environment
    if _LINK.is_symlink():
        _, found, name = str(_LINK.resolve()).partition("zoneinfo/")
        if found:
            yield name
    if _NAME.is_file():
        yield _NAME.read_text(encoding="utf-8").strip()
