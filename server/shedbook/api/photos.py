"""The images of photos, each at the address of its SHA-256."""

from hashlib import sha256 as hash_of
from typing import Any

from flask import Blueprint, Response, jsonify

from shedbook.api.access import EVERY_ROLE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, Media, endpoint
from shedbook.api.errors import ApiError
from shedbook.api.schemas import MissingPhotosSchema, PhotoHashesSchema, PhotoSchema
from shedbook.log.kinds.fields import is_sha256
from shedbook.log.kinds.photo import PHOTO_BYTES, PHOTO_TYPES
from shedbook.records.engine import writing
from shedbook.records.image_form import ImageUnfit
from shedbook.records.images import check_image
from shedbook.records.models import db
from shedbook.records.photos import add_image, find_image, missing_images

IMAGE = Media(PHOTO_TYPES, PHOTO_BYTES)

blueprint = Blueprint("photos", __name__, url_prefix="/api/gardens/<garden>/photos")


@blueprint.get("/<sha256>")
@endpoint("The image of a photo, byte for byte as it came.", allow=EVERY_ROLE, answer=IMAGE)
def show(call: Call, sha256: str) -> Response:
    found = None
    if is_sha256(sha256):
        found = find_image(db.session(), call.paired.garden_id, sha256)
    if found is None:
        raise ApiError("not_found")
    content_type, image = found
    response = Response(image, content_type=content_type)
    response.headers["Content-Disposition"] = "inline"
    return response


@blueprint.put("/<sha256>")
@endpoint(
    "Bring the image of a photo, whole and in one request; sending it again changes nothing. It "
    "must decode as its type, hold no metadata, and have the SHA-256 of the address. It is never "
    "altered.",
    allow=["lead", "helper"],
    body=IMAGE,
    answer=PhotoSchema,
    status=201,
    also=200,
    errors=["photo_mismatch", "photo_unreadable", "photos_full"],
)
def put(call: Call, sha256: str) -> Response:
    if not is_sha256(sha256):
        raise ApiError("not_found")
    paired, sent = call.paired, call.body
    if hash_of(sent.data).hexdigest() != sha256:
        raise ApiError("photo_mismatch")
    # Decoded before the store is held: others write meanwhile.
    image = check_image(sent.data)
    if image.type != sent.type:
        raise ImageUnfit(f"It was sent as {sent.type}, but is {image.type}.")
    with writing() as session:
        limit = shed().photo_limit_bytes
        is_new = add_image(session, paired.garden_id, image, paired.device_id, call.now_ms, limit)
    response = jsonify(PhotoSchema().dump({"sha256": sha256, "bytes": len(sent.data)}))
    response.status_code = 201 if is_new else 200
    return response


@blueprint.post("/missing")
@endpoint(
    "Which of these images the shed does not have.",
    allow=EVERY_ROLE,
    body=PhotoHashesSchema,
    answer=MissingPhotosSchema,
)
def missing(call: Call) -> dict[str, Any]:
    asked = call.body["sha256"]
    return {"missing": missing_images(db.session(), call.paired.garden_id, asked)}
