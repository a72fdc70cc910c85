"""Files that appear whole or not at all, whatever stops the program that writes them."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

_PARTIAL = ".shedbook-partial"


class FolderInUse(Exception):
    """The folder that was to be filled holds something already."""


@contextmanager
def staged_file(target: Path) -> Iterator[Path]:
    """A path to write to. It becomes `target` when the block ends, and is gone if it raises.

    The folder around it is its owner's alone, and may take other files that are only needed
    meanwhile.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=".shedbook-", dir=target.parent) as folder:
        partial = Path(folder) / target.name
        yield partial
        _write_through(partial)
        partial.replace(target)
    _write_through_folder(target.parent)


@contextmanager
def staged_folder(target: Path) -> Iterator[Path]:
    """A folder to fill. Its files move into `target` when the block ends, and go if it raises.

    Raises FolderInUse unless `target` is new or empty; what a killed run has left is no hindrance.
    """
    require_free(target)
    is_new = not target.exists()
    staging = target / _PARTIAL
    if staging.exists():
        shutil.rmtree(staging)
    target.mkdir(parents=True, exist_ok=True, mode=0o700)
    staging.mkdir(mode=0o700)
    try:
        yield staging
        for file in sorted(staging.iterdir()):
            _write_through(file)
            file.replace(target / file.name)
        staging.rmdir()
    except BaseException:
        shutil.rmtree(staging, ignore_errors=True)
        if is_new:
            with suppress(OSError):
                target.rmdir()
        raise
    _write_through_folder(target)


def require_free(target: Path) -> None:
    """Raises FolderInUse unless the folder is new or empty, but for what a killed run has left."""
    if target.exists() and any(item.name != _PARTIAL for item in target.iterdir()):
        raise FolderInUse(f"{target} is not empty. Choose an empty or a new folder.")


def _write_through(file: Path) -> None:
    with file.open("rb+") as opened:
        os.fsync(opened.fileno())


def _write_through_folder(folder: Path) -> None:
    """The new name is kept by its folder; Windows keeps it without being asked."""
    if os.name != "posix":
        return
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
