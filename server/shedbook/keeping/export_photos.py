"""The images of a garden as files that people can read the names of."""

import unicodedata
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from shedbook.keeping.progress import Progress, say_nothing
from shedbook.keeping.staging import staged_folder
from shedbook.log.ledger import Ledger
from shedbook.log.moment import day_text
from shedbook.records.photos import image_hashes, images_of, photos_of

NO_ENTRY = "no-entry"
SUFFIXES = {"image/jpeg": ".jpg", "image/webp": ".webp"}
LONGEST_NAME = 40
_SHORT_HASH = 8


def write_photos(
    session: Session,
    garden_id: str,
    ledger: Ledger,
    names: Mapping[str, str],
    folder: Path,
    show: Progress = say_nothing,
) -> int:
    """Fill a new or empty folder with every image; how many there were. Raises FolderInUse.

    A name is the day, the bed or planting, and the beginning of the hash. Only the hash is read
    again by an import.
    """
    told: dict[str, str] = {}
    for event in photos_of(ledger):
        # The first that names an image is the one that it was taken for.
        told.setdefault(event["details"]["sha256"], _place_of(event, names))
    count, total = 0, len(image_hashes(session, garden_id))
    with staged_folder(folder) as staging:
        for kept in images_of(session, garden_id):
            if kept.image is not None:
                stem = f"{told.get(kept.sha256, NO_ENTRY)}-{kept.sha256[:_SHORT_HASH]}"
                _free_name(staging, stem, SUFFIXES.get(kept.type, "")).write_bytes(kept.image)
                count += 1
            show(count, total)
    return count


def plain_name(text: str) -> str:
    """A name as part of a file's name on any system: letters, digits, and dashes between them."""
    spaced = "".join(one if one.isalnum() else " " for one in unicodedata.normalize("NFKC", text))
    return "-".join(spaced.split())[:LONGEST_NAME].strip("-")


def _place_of(event: Mapping[str, Any], names: Mapping[str, str]) -> str:
    places = [names[event[slot]] for slot in ("planting", "bed") if event.get(slot) in names]
    name = plain_name(places[0]) if places else ""
    return "-".join(part for part in (day_text(event["day"]), name) if part)


def _free_name(folder: Path, stem: str, suffix: str) -> Path:
    """Two images may begin with the same eight digits."""
    file, count = folder / f"{stem}{suffix}", 1
    while file.exists():
        count += 1
        file = folder / f"{stem}-{count}{suffix}"
    return file
