"""A photo: the entry says of what it is, and names the image by the SHA-256 of its bytes.

The image itself never lies in the log. It goes to the shed by a request of its own, before or after
the entry, and either may be there without the other. No rule reads a photo.
"""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import (
    ANYTHING,
    Details,
    Kind,
    choice,
    count,
    field,
    long_text,
)

# What an image may be: the phone shrinks to it, the shed refuses what is beyond.
PHOTO_TYPES = ("image/jpeg", "image/webp")
PHOTO_BYTES = 500_000
PHOTO_SIDE_PX = 2048


class Photo(Details):
    """A picture that was taken in the garden."""

    kind_name = "photo"
    sha256 = field(f.Sha256Field, required=True)
    type = choice(*PHOTO_TYPES, required=True)
    bytes = count(1, PHOTO_BYTES)
    width_px = count(1, PHOTO_SIDE_PX)
    height_px = count(1, PHOTO_SIDE_PX)
    shows = field(f.IdField)
    note = long_text(primary=True)


KINDS = (Kind(Photo, "book", ANYTHING),)
