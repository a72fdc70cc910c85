"""Pictures as a camera makes them, and what a file says of its picture."""

from __future__ import annotations

import io
import random
from dataclasses import dataclass

from PIL import ExifTags, Image

LEFT, RIGHT = (220, 30, 30), (30, 30, 220)
QUARTER_TURN = 6
SEED = 7


@dataclass(frozen=True)
class Seen:
    """A file's picture: its form and size, and the colours of its upper and lower half."""

    form: str
    size: tuple[int, int]
    upper: str
    lower: str
    has_exif: bool


def a_camera_picture(width_px: int = 3000, height_px: int = 2000) -> bytes:
    """A JPEG that is red on its left and blue on its right, to be turned by a quarter to stand
    upright: then red is above. It says where it was taken, and by what."""
    picture = Image.new("RGB", (width_px, height_px), LEFT)
    picture.paste(RIGHT, (width_px // 2, 0, width_px, height_px))
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = QUARTER_TURN
    exif[ExifTags.Base.Model] = "Camera of a tester"
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (42.0, 20.0, 11.0)
    return _file_of(picture, "JPEG", exif=exif)


def a_noisy_picture(width_px: int = 2000, height_px: int = 1500) -> bytes:
    """A PNG that shrinks badly: every pixel is another colour, by chance with a fixed seed."""
    pixels = random.Random(SEED).randbytes(3 * width_px * height_px)
    return _file_of(Image.frombytes("RGB", (width_px, height_px), pixels), "PNG")


def a_small_picture(colour: str = "green") -> bytes:
    """A PNG of one colour."""
    return _file_of(Image.new("RGB", (64, 48), colour), "PNG")


def look_at(file: bytes) -> Seen:
    with Image.open(io.BytesIO(file)) as picture:
        width, height = picture.size
        upper = picture.getpixel((width // 2, height // 4))
        lower = picture.getpixel((width // 2, 3 * height // 4))
        has_exif = bool(picture.getexif()) or b"Exif" in file or b"tester" in file
        return Seen(picture.format or "", picture.size, _word(upper), _word(lower), has_exif)


def _word(pixel: object) -> str:
    assert isinstance(pixel, tuple)
    return ("red", "green", "blue")[pixel.index(max(pixel))]


def _file_of(picture: Image.Image, form: str, **options: object) -> bytes:
    written = io.BytesIO()
    picture.save(written, form, **options)
    return written.getvalue()
