"""The images of photos: each is still what its hash says, and which are still to come."""

import hashlib
import json
from collections.abc import Collection, Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from shedbook.keeping.progress import Progress
from shedbook.log.ledger import Ledger
from shedbook.log.moment import day_text
from shedbook.records.image_form import ImageForm, ImageUnfit, read_form
from shedbook.records.models import PhotoImage, SetAside
from shedbook.records.photos import KeptImage, image_hashes, images_of, named_image, photos_of


def differences_of_photos(session: Session, garden_id: str, show: Progress) -> Iterator[str]:
    """Images that were changed, are gone, or are listed as something else than they are."""
    listed = set(image_hashes(session, garden_id))
    for done, kept in enumerate(images_of(session, garden_id), 1):
        if told := _fault(kept):
            yield f"The image {kept.sha256} {told}"
        show(done, len(listed))
    stored = set(
        session.scalars(select(PhotoImage.sha256).where(PhotoImage.garden_id == garden_id))
    )
    for sha256 in sorted(stored - listed):
        yield f"The image {sha256} is stored, but not listed."


def remarks_on_photos(
    session: Session, garden_id: str, ledger: Ledger, named: Collection[str]
) -> Iterator[str]:
    """Photos whose image a phone has not brought yet, and images that no entry names."""
    kept = set(image_hashes(session, garden_id))
    for event in photos_of(ledger):
        if event["details"]["sha256"] not in kept:
            day = day_text(event["day"])
            yield f"The image of the photo {event['id']} of {day} has not arrived."
    for sha256 in sorted(kept - {*named, *_named_aside(session, garden_id)}):
        yield f"The image {sha256} is named by no entry."


def _named_aside(session: Session, garden_id: str) -> set[str]:
    """What was set aside may still be mended, and then needs its image."""
    rows = session.scalars(select(SetAside.raw).where(SetAside.garden_id == garden_id))
    found = (named_image(json.loads(raw)) for raw in rows)
    return {sha256 for sha256 in found if sha256}


def _fault(kept: KeptImage) -> str | None:
    """The bytes against the hash and the list; decoding them again would tell nothing more."""
    if kept.image is None:
        return "is listed, but its bytes are gone."
    if hashlib.sha256(kept.image).hexdigest() != kept.sha256:
        return "was changed after it was stored: its bytes and its SHA-256 differ."
    try:
        form = read_form(kept.image)
    except ImageUnfit as error:
        return f"is none that may be kept. {error}"
    listed = ImageForm(kept.type, kept.width_px, kept.height_px)
    if (listed, kept.size_bytes) != (form, len(kept.image)):
        told = _told(listed, kept.size_bytes), _told(form, len(kept.image))
        return f"is listed as {told[0]}, but is {told[1]}."
    return None


def _told(form: ImageForm, size_bytes: int) -> str:
    return f"{form.type} of {form.width_px} × {form.height_px} pixels in {size_bytes} bytes"
