"""Images for tests of photos: sound ones of any size, made once for each content."""

import functools
import hashlib
import io
from typing import Any

from PIL import Image


@functools.cache
def a_jpeg(seed: int = 1, width_px: int = 24, height_px: int = 16) -> bytes:
    """A small JPEG whose bytes differ by its seed."""
    return encoded(_drawn(seed, width_px, height_px), "JPEG")


@functools.cache
def a_webp(seed: int = 1, width_px: int = 24, height_px: int = 16) -> bytes:
    """A small WebP whose bytes differ by its seed."""
    return encoded(_drawn(seed, width_px, height_px), "WEBP")


def encoded(picture: Image.Image, form: str, **options: Any) -> bytes:
    """A picture as the bytes of a file."""
    written = io.BytesIO()
    picture.save(written, form, **options)
    return written.getvalue()


def hash_of(image: bytes) -> str:
    """The SHA-256 that an image is found by."""
    return hashlib.sha256(image).hexdigest()


def details_of(image: bytes, **more: Any) -> dict[str, Any]:
    """What a photo's entry says of its image."""
    kind = "image/jpeg" if image[:2] == b"\xff\xd8" else "image/webp"
    return {"sha256": hash_of(image), "type": kind, "bytes": len(image)} | more


def _drawn(seed: int, width_px: int, height_px: int) -> Image.Image:
    colour = (seed * 37 % 256, seed * 59 % 256, seed % 256)
    return Image.new("RGB", (width_px, height_px), colour)
