"""Images that come at once, on both engines: each is kept once, and the limit holds."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from threading import Barrier

from flask import Flask

from shedbook.records.models import db
from shedbook.records.photos import bytes_of_garden
from tests.api.builders import HEADERS, Phone, a_phone
from tests.pictures import a_jpeg, hash_of


def bring_at_once(phones: list[Phone], images: list[bytes]) -> list[int]:
    """The statuses, sorted; every phone brings its image at the same moment."""
    start = Barrier(len(phones))

    def bring(phone: Phone, image: bytes) -> int:
        start.wait()
        url = f"/api/gardens/{phone.garden}/photos/{hash_of(image)}"
        headers = HEADERS | {"Content-Type": "image/jpeg"}
        return phone.client.put(url, data=image, headers=headers).status_code

    with ThreadPoolExecutor(len(phones)) as pool:
        return sorted(pool.map(bring, phones, images))


def phones_of(app: Flask, garden: str) -> list[Phone]:
    return [a_phone(app, garden, "helper", f"H{place}") for place in range(4)]


def test_one_image_brought_by_many_at_once_is_kept_once(app: Flask, garden: str) -> None:
    statuses = bring_at_once(phones_of(app, garden), [a_jpeg(1)] * 4)
    assert statuses == [200, 200, 200, 201]
    with app.app_context():
        assert bytes_of_garden(db.session(), garden) == len(a_jpeg(1))


def test_many_images_at_once_never_pass_the_limit(app: Flask, garden: str) -> None:
    images = [a_jpeg(seed) for seed in range(1, 5)]
    room = 2 * max(len(image) for image in images)
    app.extensions["shedbook"] = replace(app.extensions["shedbook"], photo_limit_bytes=room)
    assert bring_at_once(phones_of(app, garden), images) == [201, 201, 507, 507]
    with app.app_context():
        assert bytes_of_garden(db.session(), garden) <= room
