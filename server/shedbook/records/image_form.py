"""What the bytes of an image say they are, read without decoding them.

An image here holds pixels and what they need to be shown, and nothing else: no place it was taken
at, no words, no second picture, no bytes before its beginning or after its end. So each part is
named by what it may be, and whatever has another name is refused. Reading the size first also keeps
a few bytes from unfolding into a picture that fills the memory.

Sources: ITU-T T.81 (JPEG) annex B, JFIF 1.02, RFC 9649 (WebP), RFC 6386 (VP8) section 9.1.
"""

import re
import struct
from dataclasses import dataclass

from shedbook.log.kinds.photo import PHOTO_SIDE_PX

JPEG, WEBP = "image/jpeg", "image/webp"
# A picture that is drawn in passes has about ten. Each pass costs the time of the whole picture.
MOST_SCANS = 32

_JPEG_BEGINS, _JPEG_ENDS = b"\xff\xd8", 0xD9
# Baseline, extended and progressive; the tables; the beginning of a pass.
_FRAMES, _TABLES, _SCAN = frozenset({0xC0, 0xC1, 0xC2}), frozenset({0xC4, 0xDB, 0xDD}), 0xDA
_AFTER_PIXELS = re.compile(rb"\xff[^\x00\xd0-\xd7]")
_JFIF_LENGTH, _ADOBE_LENGTH = 14, 12

_WEBP_HEAD, _CHUNK_HEAD = 12, 8
_MOVES, _HAS_XMP, _HAS_EXIF = 0x02, 0x04, 0x08
_PIXELS = frozenset({b"VP8 ", b"VP8L"})


class ImageUnfit(Exception):
    """The bytes are no image that may be kept; the text says why."""


@dataclass(frozen=True)
class ImageForm:
    """The type and size of an image."""

    type: str
    width_px: int
    height_px: int


def find_type(data: bytes) -> str | None:
    """The type that the bytes begin as, if it is one that is kept."""
    if data[:2] == _JPEG_BEGINS:
        return JPEG
    return WEBP if data[:4] == b"RIFF" and data[8:12] == b"WEBP" else None


def read_form(data: bytes) -> ImageForm:
    """Every part of the image by its name. Raises ImageUnfit."""
    readers = {JPEG: _read_jpeg, WEBP: _read_webp}
    found = find_type(data)
    if found is None:
        raise ImageUnfit("It is neither a JPEG nor a WebP.")
    try:
        width_px, height_px = readers[found](data)
    except (struct.error, IndexError) as error:
        raise ImageUnfit("It is cut off.") from error
    if not (1 <= width_px <= PHOTO_SIDE_PX and 1 <= height_px <= PHOTO_SIDE_PX):
        raise ImageUnfit(
            f"It has {width_px} × {height_px} pixels; each side may have 1 to {PHOTO_SIDE_PX}."
        )
    return ImageForm(found, width_px, height_px)


def _read_jpeg(data: bytes) -> tuple[int, int]:
    size: tuple[int, int] | None = None
    scans, place = 0, len(_JPEG_BEGINS)
    while True:
        marker, place = _next_marker(data, place)
        if marker == _JPEG_ENDS:
            break
        (length,) = struct.unpack_from(">H", data, place)
        body = data[place + 2 : place + length]
        if length < 2 or len(body) != length - 2:
            raise ImageUnfit("It is cut off.")
        place += length
        if marker in _FRAMES:
            if size is not None:
                raise ImageUnfit("It holds more than one picture.")
            height_px, width_px = struct.unpack_from(">HH", body, 1)
            size = (width_px, height_px)
        elif marker == _SCAN:
            scans += 1
            place = _end_of_pixels(data, place)
        elif marker not in _TABLES and not _is_plain_segment(marker, body):
            raise _metadata(f"the segment FF{marker:02X}")
    if size is None or not scans:
        raise ImageUnfit("It holds no picture.")
    if scans > MOST_SCANS:
        raise ImageUnfit(f"It is drawn in {scans} passes; at most {MOST_SCANS} are taken.")
    if place != len(data):
        raise ImageUnfit("Bytes follow its end.")
    return size


def _next_marker(data: bytes, place: int) -> tuple[int, int]:
    """The marker at a place, which any number of FF may fill, and the place behind it."""
    if data[place] != 0xFF:
        raise ImageUnfit("It is no whole JPEG: a marker is missing.")
    while data[place] == 0xFF:
        place += 1
    return data[place], place + 1


def _end_of_pixels(data: bytes, place: int) -> int:
    found = _AFTER_PIXELS.search(data, place)
    if found is None:
        raise ImageUnfit("It is cut off.")
    return found.start()


def _is_plain_segment(marker: int, body: bytes) -> bool:
    """What says how pixels are to be shown: density without a thumbnail, a colour profile."""
    match marker:
        case 0xE0:
            return body[:5] == b"JFIF\0" and len(body) == _JFIF_LENGTH and body[-2:] == b"\0\0"
        case 0xE2:
            return body[:12] == b"ICC_PROFILE\0"
        case 0xEE:
            return body[:5] == b"Adobe" and len(body) == _ADOBE_LENGTH
    return False


def _read_webp(data: bytes) -> tuple[int, int]:
    (length,) = struct.unpack_from("<I", data, 4)
    if length + 8 > len(data):
        raise ImageUnfit("It is cut off.")
    if length + 8 < len(data):
        raise ImageUnfit("Bytes follow its end.")
    chunks = _chunks_of(data)
    names = [name for name, _ in chunks]
    pixels = [(name, body) for name, body in chunks if name in _PIXELS]
    canvas = None
    if names[:1] == [b"VP8X"]:
        canvas = _canvas(chunks[0][1])
        names = [name for name in names[1:] if name not in {b"ICCP", b"ALPH"}]
    if b"ANIM" in names or b"ANMF" in names:
        raise ImageUnfit("It moves; a photo is one picture.")
    if others := [name for name in names if name not in _PIXELS]:
        raise _metadata(f"the chunk {others[0].decode('ascii', 'backslashreplace')}")
    if len(pixels) != 1:
        raise ImageUnfit("It must hold one picture.")
    size = _size_of_pixels(*pixels[0])
    if canvas not in (None, size):
        raise ImageUnfit("Its picture has another size than it says.")
    return size


def _chunks_of(data: bytes) -> list[tuple[bytes, bytes]]:
    chunks, place = [], _WEBP_HEAD
    while place < len(data):
        name, length = struct.unpack_from("<4sI", data, place)
        place += _CHUNK_HEAD
        body = data[place : place + length]
        # A chunk of odd length is filled up by one byte.
        place += length + length % 2
        if place > len(data):
            raise ImageUnfit("It is cut off.")
        chunks.append((name, body))
    return chunks


def _canvas(body: bytes) -> tuple[int, int]:
    flags, width, width_high, height, height_high = struct.unpack("<B3xHBHB", body)
    if flags & _MOVES:
        raise ImageUnfit("It moves; a photo is one picture.")
    if flags & (_HAS_XMP | _HAS_EXIF):
        raise _metadata("EXIF or XMP")
    return (width_high << 16) + width + 1, (height_high << 16) + height + 1


def _size_of_pixels(name: bytes, body: bytes) -> tuple[int, int]:
    if name == b"VP8L":
        begins, sizes = struct.unpack_from("<BI", body)
        if begins != 0x2F:
            raise ImageUnfit("It is no whole WebP.")
        return (sizes & 0x3FFF) + 1, (sizes >> 14 & 0x3FFF) + 1
    begins, width, height = struct.unpack_from("<3x3sHH", body)
    if begins != b"\x9d\x01\x2a":
        raise ImageUnfit("It is no whole WebP.")
    return width & 0x3FFF, height & 0x3FFF


def _metadata(what: str) -> ImageUnfit:
    return ImageUnfit(f"It carries more than pixels ({what}), such as where it was taken.")
