"""Images of photos: brought once, checked, and seen within their garden alone."""

import threading
from typing import Any

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from shedbook.log.kinds.photo import PHOTO_BYTES
from shedbook.records.models import Photo, db
from shedbook.serving.app import Config, create_app, open_data
from tests.api.builders import HEADERS, NOW_MS, Clock, Phone, a_garden, a_phone, error_of
from tests.pictures import a_jpeg, a_webp, details_of, hash_of


def bring(phone: Phone, image: bytes, kind: str = "image/jpeg", **given: Any) -> TestResponse:
    address = given.pop("address", hash_of(image))
    url = f"/api/gardens/{given.pop('garden', phone.garden)}/photos/{address}"
    return phone.client.put(url, data=image, headers=HEADERS | {"Content-Type": kind}, **given)


def missing(phone: Phone, *asked: str) -> list[str]:
    response = phone.post("/photos/missing", {"sha256": list(asked)})
    assert response.status_code == 200
    found: list[str] = response.get_json()["missing"]
    return found


@pytest.mark.parametrize(
    ("image", "kind"), [(a_jpeg(), "image/jpeg"), (a_webp(), "image/webp")], ids=["jpeg", "webp"]
)
def test_an_image_comes_back_byte_for_byte_to_every_role(
    helper: Phone, lead: Phone, reader: Phone, image: bytes, kind: str
) -> None:
    brought = bring(helper, image, kind)
    assert brought.status_code == 201
    assert brought.get_json() == {"sha256": hash_of(image), "bytes": len(image)}
    for phone in (lead, helper, reader):
        seen = phone.get(f"/photos/{hash_of(image)}", headers={"Accept-Encoding": "gzip"})
        assert (seen.status_code, seen.get_data()) == (200, image)
        assert seen.headers["Content-Type"] == kind
        assert seen.headers["X-Content-Type-Options"] == "nosniff"
        assert seen.headers["Content-Disposition"] == "inline"
        assert seen.headers["Cache-Control"] == "no-store"
        assert "Content-Encoding" not in seen.headers


def test_the_same_image_again_changes_nothing(lead: Phone, helper: Phone) -> None:
    assert bring(lead, a_jpeg()).status_code == 201
    again = bring(helper, a_jpeg())
    assert again.status_code == 200
    assert again.get_json() == {"sha256": hash_of(a_jpeg()), "bytes": len(a_jpeg())}


def test_the_same_image_at_once_is_kept_once(app: Flask, lead: Phone, helper: Phone) -> None:
    start = threading.Barrier(2)
    statuses = []

    def bring_at_once(phone: Phone) -> None:
        start.wait()
        statuses.append(bring(phone, a_jpeg(7)).status_code)

    threads = [threading.Thread(target=bring_at_once, args=(one,)) for one in (lead, helper)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(statuses) == [200, 201]


def test_what_the_shed_has_not_is_named_in_the_order_it_was_asked(
    lead: Phone, reader: Phone
) -> None:
    assert bring(lead, a_jpeg(2)).status_code == 201
    asked = [hash_of(a_jpeg(seed)) for seed in (3, 2, 1, 3)]
    assert missing(reader, *asked) == [asked[0], asked[2]]
    assert missing(reader) == []


@pytest.mark.parametrize(
    "asked", [["5E" * 32], ["5e"], [5], "5e" * 32, ["5e" * 32] * 501, None, ["5e" * 32 + "\n"]]
)
def test_a_question_that_asks_for_no_hashes_is_refused(lead: Phone, asked: Any) -> None:
    response = lead.post("/photos/missing", {"sha256": asked})
    assert response.status_code == 422
    assert set(error_of(response)["fields"]) == {"sha256"}


def test_another_garden_finds_no_image_and_no_trace_of_one(app: Flask, lead: Phone) -> None:
    assert bring(lead, a_jpeg()).status_code == 201
    foreign = a_phone(app, a_garden(app, "Away"), "lead")
    address = f"/photos/{hash_of(a_jpeg())}"
    assert foreign.get(address).status_code == 404
    here = foreign.client.get(f"/api/gardens/{lead.garden}{address}")
    made_up = foreign.client.get(f"/api/gardens/{lead.garden}/photos/{'5e' * 32}")
    assert (here.status_code, here.get_data()) == (404, made_up.get_data())
    assert bring(foreign, a_jpeg(), garden=lead.garden).status_code == 404
    assert missing(foreign, hash_of(a_jpeg())) == [hash_of(a_jpeg())]
    # The same image in two gardens is kept in both: neither leans on the other.
    assert bring(foreign, a_jpeg()).status_code == 201


def test_a_reader_brings_no_image(reader: Phone, lead: Phone) -> None:
    refused = bring(reader, a_jpeg())
    assert refused.status_code == 403
    assert error_of(refused)["code"] == "not_permitted"
    assert missing(lead, hash_of(a_jpeg())) == [hash_of(a_jpeg())]


@pytest.mark.parametrize(
    ("image", "kind", "given", "status", "code", "said"),
    [
        (a_jpeg(), "image/jpeg", {"address": "5e" * 32}, 422, "photo_mismatch", "SHA-256"),
        (b"", "image/jpeg", {}, 422, "photo_unreadable", "neither"),
        (a_jpeg()[:-2], "image/jpeg", {}, 422, "photo_unreadable", "cut off"),
        (a_jpeg() + b"<html>", "image/jpeg", {}, 422, "photo_unreadable", "follow its end"),
        (a_jpeg(), "image/webp", {}, 422, "photo_unreadable", "was sent as image/webp"),
        (b"<html>" * 9, "image/jpeg", {}, 422, "photo_unreadable", "neither"),
        (b"\xff" * 4000, "image/jpeg", {}, 422, "photo_unreadable", "neither"),
        (a_jpeg(), "image/png", {}, 415, "not_a_photo", "image/jpeg or image/webp"),
        (a_jpeg(), "application/json", {}, 415, "not_a_photo", "image/jpeg or image/webp"),
        (a_jpeg(), "", {}, 415, "not_a_photo", "image/jpeg or image/webp"),
        (bytes(PHOTO_BYTES + 1), "image/jpeg", {}, 413, "too_large", "500000 bytes"),
        (bytes(2**21), "image/jpeg", {}, 413, "too_large", "500000 bytes"),
        (a_jpeg(), "image/jpeg", {"address": "5E" * 32}, 404, "not_found", "nothing"),
        (a_jpeg(), "image/jpeg", {"address": "..%2f..%2fetc"}, 404, "not_found", "nothing"),
    ],
)
def test_what_is_no_photo_is_refused_and_not_kept(
    lead: Phone, image: bytes, kind: str, given: Any, status: int, code: str, said: str
) -> None:
    refused = bring(lead, image, kind, **given)
    assert refused.status_code == status
    error = error_of(refused)
    assert error["code"] == code
    assert said in error["message"]
    assert missing(lead, hash_of(image)) == [hash_of(image)]


def test_a_garden_that_is_full_takes_no_more_and_says_its_limit(tmp_path: Any) -> None:
    room = len(a_jpeg(1)) + len(a_jpeg(2))
    url = open_data(tmp_path / "small")
    app = create_app(Config(url, clock_ms=Clock(), photo_limit_bytes=room))
    lead = a_phone(app, a_garden(app))
    for seed in (1, 2):
        assert bring(lead, a_jpeg(seed)).status_code == 201
    full = bring(lead, a_jpeg(3))
    assert full.status_code == 507
    assert error_of(full)["code"] == "photos_full"
    assert "limit of 0 MB" in error_of(full)["message"]
    # What is there already may be sent again, and another garden has room of its own.
    assert bring(lead, a_jpeg(2)).status_code == 200
    assert bring(a_phone(app, a_garden(app, "Away")), a_jpeg(3)).status_code == 201


def test_the_image_and_its_entry_may_come_in_either_order(helper: Phone, lead: Phone) -> None:
    early, late = a_jpeg(11), a_jpeg(12)
    assert bring(helper, early).status_code == 201
    for image in (early, late):
        entry = helper.entry("photo", details_of(image, note="Spots on the lower leaves."))
        assert helper.push_one(entry)["result"] == "accepted"
    assert lead.get(f"/photos/{hash_of(late)}").status_code == 404
    assert bring(helper, late).status_code == 201
    assert lead.get(f"/photos/{hash_of(late)}").get_data() == late


@pytest.mark.parametrize(
    ("changed", "path"),
    [
        ({"sha256": "5E" * 32}, "details.sha256"),
        ({"sha256": None}, "details.sha256"),
        ({"type": "image/png"}, "details.type"),
        ({"bytes": PHOTO_BYTES + 1}, "details.bytes"),
        ({"width_px": 0}, "details.width_px"),
        ({"shows": "it"}, "details.shows"),
    ],
)
def test_an_entry_of_a_photo_that_names_no_image_is_set_aside(
    lead: Phone, changed: dict[str, Any], path: str
) -> None:
    answer = lead.push_one(lead.entry("photo", details_of(a_jpeg()) | changed))
    assert answer["result"] == "set_aside"
    assert set(answer["problems"]) == {path}


def test_who_brought_an_image_and_when_is_kept(app: Flask, helper: Phone) -> None:
    assert bring(helper, a_jpeg(1, 30, 20)).status_code == 201
    with app.app_context():
        (row,) = db.session.query(Photo).all()
        assert (row.device_id, row.received_at_ms) == (helper.device, NOW_MS)
        assert (row.width_px, row.height_px, row.type) == (30, 20, "image/jpeg")


def test_the_description_tells_which_bytes_an_image_may_be(app: Flask) -> None:
    paths = app.test_client().get("/api/openapi.json").get_json()["paths"]
    put = paths["/api/gardens/{garden}/photos/{sha256}"]["put"]
    assert set(put["requestBody"]["content"]) == {"image/jpeg", "image/webp"}
    assert set(put["responses"]) >= {"200", "201", "403", "413", "415", "422", "507"}
    get = paths["/api/gardens/{garden}/photos/{sha256}"]["get"]
    assert set(get["responses"]["200"]["content"]) == {"image/jpeg", "image/webp"}
