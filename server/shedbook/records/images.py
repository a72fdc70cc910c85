"""Whether bytes are an image that may be kept: of a known form, small, and decoding whole."""

import hashlib
import io
import struct
from dataclasses import dataclass

from PIL import Image

from shedbook.log.kinds.photo import PHOTO_BYTES
from shedbook.records.image_form import ImageUnfit, read_form

_DECODER = {"image/jpeg": "JPEG", "image/webp": "WEBP"}
# What the decoders raise at bytes that are not what their form promises.
_BROKEN = (OSError, SyntaxError, ValueError, LookupError, TypeError, struct.error)


@dataclass(frozen=True)
class CheckedImage:
    """An image that decodes whole, with what is written down beside its bytes."""

    sha256: str
    type: str
    width_px: int
    height_px: int
    image: bytes


def check_image(data: bytes) -> CheckedImage:
    """Look at the form of an image, then decode it. Raises ImageUnfit; nothing is altered."""
    if len(data) > PHOTO_BYTES:
        raise ImageUnfit(f"It has {len(data)} bytes; at most {PHOTO_BYTES} are taken.")
    form = read_form(data)
    try:
        with Image.open(io.BytesIO(data), formats=(_DECODER[form.type],)) as opened:
            opened.load()
            size = opened.size
    except _BROKEN as error:
        raise ImageUnfit("It can't be decoded whole.") from error
    if size != (form.width_px, form.height_px):
        raise ImageUnfit("Its picture has another size than it says.")
    digest = hashlib.sha256(data).hexdigest()
    return CheckedImage(digest, form.type, form.width_px, form.height_px, data)
