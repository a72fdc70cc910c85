"""Which bytes are an image that may be kept, and what is said of those that are not."""

import io
import random
import struct

import pytest
from PIL import Image, TiffImagePlugin

from shedbook.log.kinds.photo import PHOTO_BYTES, PHOTO_SIDE_PX
from shedbook.records.image_form import MOST_SCANS, ImageForm, ImageUnfit, read_form
from shedbook.records.images import check_image
from tests.pictures import a_jpeg, a_webp, encoded, hash_of

GRADIENT = Image.linear_gradient("L").resize((40, 30)).convert("RGB")
PROFILE = b"any profile of colours" * 9


def an_exif() -> bytes:
    """A camera's metadata with the place a picture was taken at."""
    exif = Image.Exif()
    exif[0x8825] = {1: "N", 2: (TiffImagePlugin.IFDRational(42),) * 3}
    return exif.tobytes()


def with_segment(jpeg: bytes, marker: int, body: bytes) -> bytes:
    return jpeg[:2] + struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body + jpeg[2:]


def with_chunk(webp: bytes, name: bytes, body: bytes) -> bytes:
    whole = webp[8:] + name + struct.pack("<I", len(body)) + body + b"\0" * (len(body) % 2)
    return b"RIFF" + struct.pack("<I", len(whole)) + whole


def with_size(jpeg: bytes, width_px: int, height_px: int) -> bytes:
    """The same JPEG, but its frame says that it is larger."""
    place = jpeg.index(b"\xff\xc0") + 5
    return jpeg[:place] + struct.pack(">HH", height_px, width_px) + jpeg[place + 4 :]


def a_canvas(width_px: int, height_px: int, flags: int = 0) -> bytes:
    """An extended WebP whose canvas is as large as is said."""
    sizes = [struct.pack("<I", side - 1)[:3] for side in (width_px, height_px)]
    head = struct.pack("<B3x", flags) + sizes[0] + sizes[1]
    pixels = a_webp()[12:]
    body = b"WEBPVP8X" + struct.pack("<I", len(head)) + head + pixels
    return b"RIFF" + struct.pack("<I", len(body)) + body


def many_passes() -> bytes:
    whole = encoded(GRADIENT, "JPEG", progressive=True)
    last = whole[whole.rindex(b"\xff\xc4") : -2]
    return whole[:-2] + last * MOST_SCANS + whole[-2:]


def a_moving_webp() -> bytes:
    frames = [Image.new("RGB", (8, 8), colour) for colour in ("red", "green")]
    return encoded(frames[0], "WEBP", save_all=True, append_images=frames[1:])


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (a_jpeg(), "image/jpeg"),
        (encoded(GRADIENT, "JPEG", progressive=True), "image/jpeg"),
        (encoded(GRADIENT.convert("L"), "JPEG"), "image/jpeg"),
        (encoded(GRADIENT, "JPEG", icc_profile=PROFILE), "image/jpeg"),
        (a_webp(), "image/webp"),
        (encoded(GRADIENT, "WEBP", lossless=True), "image/webp"),
        (encoded(GRADIENT, "WEBP", icc_profile=PROFILE), "image/webp"),
        (encoded(Image.new("RGBA", (9, 7), (9, 9, 9, 9)), "WEBP"), "image/webp"),
    ],
    ids=[
        "baseline",
        "progressive",
        "grey",
        "jpeg with profile",
        "webp",
        "lossless",
        "webp with profile",
        "see-through",
    ],
)
def test_a_sound_image_is_checked_and_kept_as_it_is(data: bytes, kind: str) -> None:
    with Image.open(io.BytesIO(data)) as opened:
        size = opened.size
    checked = check_image(data)
    assert (checked.image, checked.sha256) == (data, hash_of(data))
    assert (checked.type, checked.width_px, checked.height_px) == (kind, *size)
    assert read_form(data) == ImageForm(kind, *size)


def test_an_image_of_the_largest_size_is_taken_and_a_larger_one_is_not() -> None:
    assert check_image(a_jpeg(1, PHOTO_SIDE_PX, 8)).width_px == PHOTO_SIDE_PX
    for data in (a_jpeg(1, PHOTO_SIDE_PX + 1, 8), a_webp(1, 8, PHOTO_SIDE_PX + 1)):
        with pytest.raises(ImageUnfit, match=r"× .* pixels; each side may have 1 to 2048"):
            check_image(data)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "neither a JPEG nor a WebP"),
        (b"\xff\xd8", "cut off"),
        (b"RIFF\x04\0\0\0WEBP", "must hold one picture"),
        (encoded(GRADIENT, "PNG"), "neither a JPEG nor a WebP"),
        (encoded(GRADIENT, "GIF"), "neither a JPEG nor a WebP"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "neither a JPEG nor a WebP"),
        (a_jpeg()[:-2], "cut off"),
        (a_jpeg()[:200], "cut off"),
        (a_webp()[:-2], "cut off"),
        (a_jpeg() + b"PK\x03\x04", "Bytes follow its end"),
        (a_jpeg() + a_jpeg(2), "Bytes follow its end"),
        (a_webp() + b"<script>", "Bytes follow its end"),
        (encoded(GRADIENT, "JPEG", exif=an_exif()), "segment FFE1"),
        (encoded(GRADIENT, "JPEG", comment=b"Back field"), "segment FFFE"),
        (with_segment(a_jpeg(), 0xE1, b"http://ns.adobe.com/xap/1.0/\0<x/>"), "segment FFE1"),
        (with_segment(a_jpeg(), 0xED, b"Photoshop 3.0\x008BIM"), "segment FFED"),
        (with_segment(a_jpeg(), 0xE2, b"MPF\0more"), "segment FFE2"),
        (with_segment(a_jpeg(), 0xE0, b"JFXX\0\x10thumbnail"), "segment FFE0"),
        (with_segment(a_jpeg(), 0xE0, b"JFIF\0\1\1\0\0\1\0\1\1\1abc"), "segment FFE0"),
        (encoded(GRADIENT, "WEBP", exif=an_exif()), "EXIF or XMP"),
        (encoded(GRADIENT, "WEBP", xmp=b"<x/>"), "EXIF or XMP"),
        (with_chunk(a_canvas(24, 16), b"EXIF", an_exif()), "chunk EXIF"),
        (with_chunk(a_webp(), b"note", b"Back field"), "chunk note"),
        (with_chunk(a_webp(), *[a_webp()[12:16], a_webp()[20:]]), "must hold one picture"),
        (a_moving_webp(), "It moves"),
        (a_canvas(24, 16, 2), "It moves"),
        (with_size(a_jpeg(), 65_535, 65_535), "65535 × 65535 pixels"),
        (with_size(a_jpeg(), 0, 16), "0 × 16 pixels"),
        (a_canvas(16_384, 16_384), "another size than it says"),
        (many_passes(), "passes; at most 32"),
    ],
)
def test_what_is_no_plain_image_is_refused_with_its_reason(data: bytes, said: str) -> None:
    with pytest.raises(ImageUnfit, match=said):
        check_image(data)


def test_bytes_that_only_look_like_an_image_are_refused_by_the_decoder() -> None:
    jpeg = encoded(GRADIENT, "JPEG")
    place = jpeg.index(b"\xff\xc4")
    # A table of codes that no decoder can build: more codes of one bit than there are.
    broken = jpeg[: place + 5] + b"\x0f" + jpeg[place + 6 :]
    assert read_form(broken) == ImageForm("image/jpeg", 40, 30)
    with pytest.raises(ImageUnfit, match="can't be decoded whole"):
        check_image(broken)


def test_more_bytes_than_a_photo_may_have_are_refused_before_they_are_looked_at() -> None:
    with pytest.raises(ImageUnfit, match="at most 500000"):
        check_image(a_jpeg() + bytes(PHOTO_BYTES))


@pytest.mark.parametrize(
    "data",
    [a_jpeg(), a_webp(), encoded(GRADIENT, "WEBP", lossless=True)],
    ids=["jpeg", "webp", "lossless"],
)
def test_a_spoiled_image_is_kept_or_refused_and_never_breaks_the_check(data: bytes) -> None:
    chance = random.Random(20_260_601)
    refused = 0
    for _ in range(400):
        spoiled = bytearray(data)
        for _ in range(chance.randint(1, 4)):
            spoiled[chance.randrange(len(spoiled))] = chance.randrange(256)
        if chance.random() < 0.3:
            del spoiled[chance.randrange(len(spoiled)) :]
        try:
            check_image(bytes(spoiled))
        except ImageUnfit:
            refused += 1
    assert refused > 100
