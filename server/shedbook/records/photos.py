"""The images of photos: kept beside the log, found by the SHA-256 of their bytes.

They lie in the store and not as files, so that one backup is of one moment and several servers need
no folder between them. The bytes have a table of their own, which lists never read.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, insert, select
from sqlalchemy.orm import Session

from shedbook.log.kinds.fields import is_sha256
from shedbook.log.ledger import Ledger, sort_by_time
from shedbook.records.gardens import lock_garden
from shedbook.records.images import CheckedImage
from shedbook.records.models import Photo, PhotoImage

# What all images of a garden may take unless its keeper says otherwise: about 6,000 of them.
GARDEN_PHOTO_BYTES = 2_000_000_000


class PhotosFull(Exception):
    """The garden's images have reached the limit that the shed was given."""

    def __init__(self, limit_bytes: int) -> None:
        super().__init__(
            f"The photos of this garden have reached the shed's limit of {limit_bytes // 10**6} MB."
        )


@dataclass(frozen=True)
class KeptImage:
    """A row of the list with its bytes; None when they are gone."""

    sha256: str
    type: str
    size_bytes: int
    width_px: int
    height_px: int
    image: bytes | None


def add_image(
    session: Session,
    garden_id: str,
    image: CheckedImage,
    device_id: str | None,
    at_ms: int,
    limit_bytes: int,
) -> bool:
    """Keep an image; False when it was there. Raises PhotosFull. Needs a write transaction."""
    lock_garden(session, garden_id)
    if not missing_images(session, garden_id, [image.sha256]):
        return False
    if bytes_of_garden(session, garden_id) + len(image.image) > limit_bytes:
        raise PhotosFull(limit_bytes)
    key = {"garden_id": garden_id, "sha256": image.sha256}
    session.execute(
        insert(Photo),
        key
        | {
            "type": image.type,
            "bytes": len(image.image),
            "width_px": image.width_px,
            "height_px": image.height_px,
            "device_id": device_id,
            "received_at_ms": at_ms,
        },
    )
    session.execute(insert(PhotoImage), key | {"image": image.image})
    return True


def find_image(session: Session, garden_id: str, sha256: str) -> tuple[str, bytes] | None:
    """The type and the bytes of an image of this garden."""
    row = session.execute(
        select(Photo.type, PhotoImage.image)
        .join(PhotoImage, _same_image())
        .where(Photo.garden_id == garden_id, Photo.sha256 == sha256)
    ).one_or_none()
    return None if row is None else (row.type, row.image)


def missing_images(session: Session, garden_id: str, wanted: Iterable[str]) -> list[str]:
    """Those of the images that the garden does not have, in the order in which they were asked."""
    asked = list(dict.fromkeys(wanted))
    rows = session.scalars(
        select(Photo.sha256).where(Photo.garden_id == garden_id, Photo.sha256.in_(asked))
    )
    kept = set(rows)
    return [sha256 for sha256 in asked if sha256 not in kept]


def bytes_of_garden(session: Session, garden_id: str) -> int:
    """How much room the garden's images take."""
    total = session.scalar(select(func.sum(Photo.bytes)).where(Photo.garden_id == garden_id))
    return int(total or 0)


def image_hashes(session: Session, garden_id: str) -> list[str]:
    """All images of a garden."""
    rows = session.scalars(
        select(Photo.sha256).where(Photo.garden_id == garden_id).order_by(Photo.sha256)
    )
    return list(rows)


def images_of(session: Session, garden_id: str) -> Iterator[KeptImage]:
    """Every image of a garden; one at a time is in the memory."""
    size = Photo.bytes.label("size_bytes")
    columns = (Photo.sha256, Photo.type, size, Photo.width_px, Photo.height_px, PhotoImage.image)
    for sha256 in image_hashes(session, garden_id):
        row = session.execute(
            select(*columns)
            .outerjoin(PhotoImage, _same_image())
            .where(Photo.garden_id == garden_id, Photo.sha256 == sha256)
        ).one()
        yield KeptImage(**row._mapping)


def named_image(entry: Mapping[str, Any]) -> str | None:
    """The image that an entry names: a photo, or a correction that tells one again."""
    details = entry.get("details")
    kind = entry.get("kind")
    if kind == "correct" and isinstance(details, Mapping):
        kind, details = details.get("kind"), details.get("restated")
    if kind != "photo" or not isinstance(details, Mapping):
        return None
    sha256 = details.get("sha256")
    return sha256 if is_sha256(sha256) else None


def photos_of(ledger: Ledger) -> list[dict[str, Any]]:
    """The photos of a garden as they were told last, the oldest first; not what was taken back."""
    events = ledger.snapshot()["events"]
    return sort_by_time(
        [event for event in events if event["kind"] == "photo" and "sha256" in event["details"]]
    )


def _same_image() -> Any:
    return (PhotoImage.garden_id == Photo.garden_id) & (PhotoImage.sha256 == Photo.sha256)
