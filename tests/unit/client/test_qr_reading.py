"""The decoder that is brought along reads drawn tags: turned, small, grey and noisy."""

from __future__ import annotations

import base64
import io
import random
from pathlib import Path

import pytest
import segno
from PIL import Image, ImageFilter

from tests.node import ask_node

RUNNER = Path(__file__).parents[2] / "twins" / "qr_pictures.mjs"
LINK = "https://shed.local:8443/#/t/8DRW7N"
SEED = 7
SIDE_PX = 480


def drawn(scale: int = 6, border: int = 4) -> Image.Image:
    file = io.BytesIO()
    segno.make(LINK, error="m", micro=False).save(file, kind="png", scale=scale, border=border)
    return Image.open(file).convert("L")


def on_a_wall(tag: Image.Image, grey: int = 170) -> Image.Image:
    """The tag in the middle of a larger picture, as a camera has it."""
    wall = Image.new("L", (SIDE_PX, SIDE_PX), grey)
    wall.paste(tag, ((SIDE_PX - tag.width) // 2, (SIDE_PX - tag.height) // 2))
    return wall


def turned(degrees: float) -> Image.Image:
    turned = drawn().rotate(degrees, expand=True, fillcolor=255, resample=Image.Resampling.BICUBIC)
    return on_a_wall(turned)


def noisy(share: float) -> Image.Image:
    picture = on_a_wall(drawn())
    chance = random.Random(SEED)
    values = bytearray(picture.tobytes())
    for at in chance.sample(range(len(values)), round(share * len(values))):
        values[at] = chance.randrange(256)
    return Image.frombytes("L", picture.size, bytes(values))


def dim(picture: Image.Image) -> Image.Image:
    """Little light and little contrast: 60 to 140 of 255."""
    return picture.point([60 + value * 80 // 255 for value in range(256)])


def read(*pictures: Image.Image) -> list[str | None]:
    asked = [
        {"width": one.width, "height": one.height, "grey": base64.b64encode(one.tobytes()).decode()}
        for one in pictures
    ]
    told: list[str | None] = ask_node(RUNNER, asked)
    return told


@pytest.mark.parametrize(
    "picture",
    [
        drawn(),
        on_a_wall(drawn(scale=3)),
        dim(on_a_wall(drawn())),
        noisy(0.05),
        on_a_wall(drawn()).filter(ImageFilter.GaussianBlur(1.5)),
    ],
    ids=["bare", "small", "dim", "noisy", "blurred"],
)
def test_a_drawn_tag_is_read(picture: Image.Image) -> None:
    assert read(picture) == [LINK]


def test_a_tag_is_read_however_it_hangs() -> None:
    angles = list(range(0, 360, 15))
    told = read(*[turned(degrees) for degrees in angles])
    unread = [angle for angle, text in zip(angles, told, strict=True) if text != LINK]
    assert unread == []


def test_a_picture_without_a_tag_gives_nothing() -> None:
    chance = random.Random(SEED)
    noise = Image.frombytes("L", (SIDE_PX, SIDE_PX), chance.randbytes(SIDE_PX * SIDE_PX))
    assert read(Image.new("L", (SIDE_PX, SIDE_PX), 170), noise) == [None, None]
