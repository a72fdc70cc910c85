"""Finds the images of a log in a folder: by their hash, whatever their files are called."""

import hashlib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from shedbook.keeping.progress import Progress, say_nothing
from shedbook.log.kinds.photo import PHOTO_BYTES
from shedbook.records.image_form import ImageUnfit
from shedbook.records.images import CheckedImage, check_image
from shedbook.records.photos import add_image, named_image


class PhotosUnfit(Exception):
    """Files that the log names can't be taken in; the lines say why."""


@dataclass(frozen=True)
class ImageFile:
    """A file whose image was checked; its bytes are read again when they are taken in."""

    file: Path
    checked: CheckedImage


@dataclass
class FoundImages:
    """Where each image lies that the log names, and what else there is to tell."""

    limit_bytes: int
    files: dict[str, ImageFile] = field(default_factory=dict)
    size_bytes: int = 0
    # Named by the log, and not in the folder.
    missing: list[str] = field(default_factory=list)
    # In the folder, and not named by the log.
    others: list[Path] = field(default_factory=list)


def images_named(entries: Iterable[Mapping[str, Any]]) -> list[str]:
    """The images that these entries name, each once."""
    found = (named_image(entry) for entry in entries)
    return list(dict.fromkeys(sha256 for sha256 in found if sha256))


def find_images(
    folder: Path, named: Collection[str], limit_bytes: int, show: Progress = say_nothing
) -> FoundImages:
    """Look through the files of a folder and check those that the log names. Raises PhotosUnfit."""
    wanted, found, reasons = set(named), FoundImages(limit_bytes), []
    files = sorted(file for file in folder.iterdir() if file.is_file())
    for done, file in enumerate(files, 1):
        image = _read(file)
        if image is None or _hash(image) not in wanted:
            found.others.append(file)
        elif _hash(image) not in found.files:
            try:
                _note(found, file, image)
            except ImageUnfit as error:
                reasons.append(f"{file}: {error}")
        show(done, len(files))
    if found.size_bytes > limit_bytes:
        reasons.append(
            f"The photos have {found.size_bytes // 10**6 + 1} MB together; this shed takes "
            f"{limit_bytes // 10**6} MB a garden."
        )
    if reasons:
        raise PhotosUnfit("\n".join(reasons))
    found.missing = [sha256 for sha256 in named if sha256 not in found.files]
    return found


def take_in_images(
    session: Session, garden_id: str, found: FoundImages, at_ms: int, show: Progress = say_nothing
) -> None:
    """Keep images that were found, within a write transaction. Raises PhotosUnfit."""
    for done, (sha256, kept) in enumerate(found.files.items(), 1):
        image = _read(kept.file)
        if image is None or _hash(image) != sha256:
            raise PhotosUnfit(f"{kept.file} was changed meanwhile.")
        whole = replace(kept.checked, image=image)
        add_image(session, garden_id, whole, None, at_ms, found.limit_bytes)
        show(done, len(found.files))


def _read(file: Path) -> bytes | None:
    """The bytes of a file that is small enough to be one of ours."""
    return file.read_bytes() if file.stat().st_size <= PHOTO_BYTES else None


def _hash(image: bytes) -> str:
    return hashlib.sha256(image).hexdigest()


def _note(found: FoundImages, file: Path, image: bytes) -> None:
    checked = check_image(image)
    # Thousands of images would not fit into the memory together.
    found.files[checked.sha256] = ImageFile(file, replace(checked, image=b""))
    found.size_bytes += len(image)
