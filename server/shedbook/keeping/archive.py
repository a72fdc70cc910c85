"""The form of a backup: one zip file of the log and a manifest of what it must be.

The manifest names every file with its SHA-256, so that a copy which has suffered on its way is
found before anything is made of it. The key of the certificate authority is never part of it: who
finds a backup must not be able to pretend to be the shed.
"""

import hashlib
import json
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from shedbook import places
from shedbook.keeping.progress import Progress

FORMAT = 1
MANIFEST = "manifest.json"
# Everything that an archive of this format may hold beside its manifest.
MEMBERS = (places.LOG_FILE,)

_CHUNK = 1024 * 1024
_LARGEST_MANIFEST = 16 * 1024 * 1024


class ArchiveUnfit(Exception):
    """The file is no backup, is damaged, or comes from a newer program."""


@dataclass(frozen=True)
class Member:
    """What a file of the archive must be."""

    sha256: str
    bytes: int


@dataclass(frozen=True)
class Manifest:
    """What lies in an archive, and what wrote it."""

    format: int
    app: str
    schema: str
    made_at: str
    gardens: list[dict[str, Any]]
    files: dict[str, Member]

    def as_text(self) -> str:
        """The manifest as it lies in the archive."""
        return json.dumps(asdict(self), ensure_ascii=False, indent=2) + "\n"


def pack(archive: zipfile.ZipFile, file: Path, name: str, show: Progress) -> Member:
    """Put a file into the archive; what it was."""
    digest, done, total = hashlib.sha256(), 0, file.stat().st_size
    # The size may pass 4 GiB, and a zip must know that beforehand.
    with file.open("rb") as source, archive.open(name, "w", force_zip64=True) as member:
        while chunk := source.read(_CHUNK):
            digest.update(chunk)
            member.write(chunk)
            done += len(chunk)
            show(done, total)
    return Member(digest.hexdigest(), done)


def unpack(
    archive: zipfile.ZipFile, name: str, member: Member, target: Path, show: Progress
) -> None:
    """Write one file of the archive; raises ArchiveUnfit unless it is what the manifest says."""
    digest, done = hashlib.sha256(), 0
    with archive.open(name) as source, target.open("wb") as file:
        while chunk := source.read(_CHUNK):
            digest.update(chunk)
            done += len(chunk)
            # A few bytes can unfold into any number of them.
            if done > member.bytes:
                break
            file.write(chunk)
            show(done, member.bytes)
    if done != member.bytes or digest.hexdigest() != member.sha256:
        raise ArchiveUnfit(
            f"{name} in the archive is not what its manifest says: the file was damaged or changed."
        )


@contextmanager
def opened_archive(file: Path) -> Iterator[tuple[zipfile.ZipFile, Manifest]]:
    """An archive with its manifest, both looked at before anything is read from it."""
    try:
        with zipfile.ZipFile(file) as archive:
            yield archive, _read_manifest(archive)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as error:
        raise ArchiveUnfit(f"{file} is no backup that can be read: {error}.") from error


def _read_manifest(archive: zipfile.ZipFile) -> Manifest:
    names = archive.namelist()
    if MANIFEST not in names:
        raise ArchiveUnfit("This is no backup of Shedbook: it has no manifest.")
    if archive.getinfo(MANIFEST).file_size > _LARGEST_MANIFEST:
        raise ArchiveUnfit("The manifest of this archive is too large to be one.")
    try:
        read = json.loads(archive.read(MANIFEST))
        if read["format"] > FORMAT:
            raise ArchiveUnfit(
                f"This backup was made by a newer Shedbook ({read['app']}). Update Shedbook first."
            )
        files = {name: Member(**facts) for name, facts in read["files"].items()}
        manifest = Manifest(**{**read, "files": files})
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise ArchiveUnfit(f"The manifest of this archive can't be read: {error}.") from error
    if sorted(names) != sorted([MANIFEST, *files]) or set(files) != set(MEMBERS):
        raise ArchiveUnfit("The archive does not hold the files that a backup holds.")
    return manifest
