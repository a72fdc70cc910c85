"""What a pretended camera sees: a film in which a tag is held before it."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import segno
from PIL import Image
from playwright.sync_api import Browser, Playwright

from tests import needs

WIDTH_PX, HEIGHT_PX = 640, 480
FRAMES = 10
GREY, NO_COLOUR = 150, 128


def film_a_tag(file: Path, link: str, degrees: float = 20) -> Path:
    """An uncompressed film (YUV4MPEG2, 4:2:0) of a tag that hangs askew and sways."""
    shape = f"YUV4MPEG2 W{WIDTH_PX} H{HEIGHT_PX} F15:1 Ip A1:1 C420jpeg\n"
    colours = bytes([NO_COLOUR]) * (WIDTH_PX * HEIGHT_PX // 2)
    with file.open("wb") as film:
        film.write(shape.encode())
        for frame in range(FRAMES):
            film.write(b"FRAME\n" + _seen(link, degrees + frame).tobytes() + colours)
    return file


def _seen(link: str, degrees: float) -> Image.Image:
    drawn = io.BytesIO()
    segno.make(link, error="m", micro=False).save(drawn, kind="png", scale=6, border=4)
    tag = Image.open(drawn).convert("L").rotate(degrees, expand=True, fillcolor=255)
    seen = Image.new("L", (WIDTH_PX, HEIGHT_PX), GREY)
    seen.paste(tag, ((WIDTH_PX - tag.width) // 2, (HEIGHT_PX - tag.height) // 2))
    return seen


@contextmanager
def camera_browser(playwright: Playwright, film: Path, *, allows: bool = True) -> Iterator[Browser]:
    """A browser whose camera shows a film, and whose person allows it or does not."""
    answer = "--use-fake-ui-for-media-stream" + ("" if allows else "=deny")
    browser = playwright.chromium.launch(
        executable_path=needs.find_browser(),
        args=[
            "--use-fake-device-for-media-stream",
            f"--use-file-for-fake-video-capture={film}",
            answer,
        ],
    )
    try:
        yield browser
    finally:
        browser.close()
