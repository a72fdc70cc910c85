"""Photos taken and asked for in a tab with a garden, and what the shed has of them."""

from __future__ import annotations

import base64
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.browser.phone import Phone
from tests.browser.pictures import a_small_picture
from tests.browser.shed import Shed

PHOTOS = "**/api/gardens/*/photos/*"
AS_FILE = """globalThis.fileOf = (base64, type) =>
  new File([Uint8Array.from(atob(base64), (one) => one.charCodeAt(0))], 'picture', { type });"""
SHRINK = "async (base64) => (await actions.shrinkPicture(fileOf(base64, 'image/jpeg'))) ?? null"
ADD = """async ([base64, bed, shows]) => {
  await actions.addPhoto(fileOf(base64, 'image/png'), { bed }, shows ?? undefined);
  const photo = garden.state.look.events({ kind: 'photo' })[0];
  return photo?.details.sha256;
}"""
# What lies in the stores, whatever the page says of it.
KEPT = """async () => ({
  entries: (await garden.store.getAll('entries')).map(({ kind }) => kind),
  outbox: await garden.store.count('outbox'),
  photos: (await garden.store.getAll('photos')).map(({ sha256, state }) => [sha256, state]),
  images: await garden.store.count('images'),
})"""
COUNTS = """() => ({
  waiting: garden.state.waitingPhotos.size,
  refused: garden.state.refusedPhotos.map((row) => row.code),
})"""
BYTES = """async (sha256) => {
  const found = await actions.findPicture(sha256);
  if (!(found instanceof Blob)) return found;
  const bytes = new Uint8Array(await found.arrayBuffer());
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
}"""
# A round that is asked for while one runs only follows it, and photos make way for it.
TALK = """async () => {
  await garden.loop.now();
  await garden.loop.now();
  return garden.state.sync.phase;
}"""
HASHES_AT_SHED = """
from shedbook.records.gardens import all_gardens
from shedbook.records.models import db
from shedbook.records.photos import image_hashes
with app.app_context():
    for sha256 in image_hashes(db.session, all_gardens()[0].id): print(sha256)
"""


def paired(phone: Phone, link: str | None = None) -> Page:
    """A tab with `garden` and `actions`, in which files can be made."""
    page = phone.garden(link)
    page.evaluate(AS_FILE)
    return page


def shrink(page: Page, file: bytes) -> dict[str, Any] | None:
    """What the phone makes of a file, without its bytes."""
    made: dict[str, Any] | None = page.evaluate(SHRINK, base64.b64encode(file).decode())
    return made


def add_photo(page: Page, bed: str, shows: str | None = None, file: bytes = b"") -> str:
    """Take a photo of a bed; returns the digest by which it is known."""
    written = base64.b64encode(file or a_small_picture()).decode()
    sha256: str = page.evaluate(ADD, [written, bed, shows])
    return sha256


def bytes_of(page: Page, sha256: str) -> bytes:
    """What the phone shows when it is asked for a photo."""
    return base64.b64decode(page.evaluate(BYTES, sha256))


def talk(page: Page) -> str:
    """Talk with the shed, for as long as it takes to try every photo; returns how it ended."""
    phase: str = page.evaluate(TALK)
    return phase


def hashes_at(shed: Shed) -> list[str]:
    return shed.python(HASHES_AT_SHED).split()


def choose(page: Page, button: str, file: bytes, name: str = "picture.jpg") -> None:
    """Choose a file behind one of the two buttons."""
    mime = "image/png" if file.startswith(b"\x89PNG") else "image/jpeg"
    page.get_by_label(button, exact=True).set_input_files(
        {"name": name, "mimeType": mime, "buffer": file}
    )


def expect_drawn(picture: Locator) -> None:
    expect(picture).to_be_visible()
    picture.evaluate("(one) => one.decode()")
    assert picture.evaluate("(one) => one.naturalWidth") > 0
