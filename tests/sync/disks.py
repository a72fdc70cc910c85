"""Small disks of a test's own, which can run full, and turn read-only as a failing disk does."""

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

FILL = "fill"
BLOCK = b"\0" * 65_536
IMAGE_BYTES = 48 * 1024 * 1024


@contextmanager
def small_disk(at: Path, megabytes: int) -> Iterator[Path]:
    """A file system in memory, mounted at a new folder."""
    at.mkdir()
    _run("mount", "-t", "tmpfs", "-o", f"size={megabytes}m", "shedbook-test", str(at))
    try:
        yield at
    finally:
        _run("umount", str(at))


@contextmanager
def failing_disk(at: Path) -> Iterator[Path]:
    """A disk image that `fail` makes read-only while its files are open."""
    image = at.with_suffix(".image")
    with image.open("wb") as file:
        file.truncate(IMAGE_BYTES)
    _run("mkfs.ext4", "-q", str(image))
    at.mkdir()
    _run("mount", "-o", "loop,errors=remount-ro", str(image), str(at))
    try:
        yield at
    finally:
        _run("umount", str(at))
        image.unlink()


def fail(disk: Path) -> None:
    """What the kernel does by itself when it meets an error on the disk."""
    _run("mount", "-o", "remount,abort", str(disk))


def fill(disk: Path) -> None:
    """Take all the room that is left."""
    with (disk / FILL).open("ab", buffering=0) as file:
        size = len(BLOCK)
        while size:
            try:
                file.write(BLOCK[:size])
            except OSError:
                size //= 2
        os.fsync(file.fileno())


def make_room(disk: Path) -> None:
    """Give it back."""
    (disk / FILL).unlink()


def _run(*command: str) -> None:
    ran = subprocess.run(command, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stderr
