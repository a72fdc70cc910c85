"""Every error of the HTTP interface, in one table and one form."""

import logging
from collections.abc import Mapping
from typing import Any, NamedTuple

from flask import Flask, Response, jsonify
from marshmallow import ValidationError
from sqlalchemy.exc import DBAPIError
from werkzeug.exceptions import HTTPException

from shedbook.records.gardens import GardenNotFound
from shedbook.records.image_form import ImageUnfit
from shedbook.records.models import db
from shedbook.records.people import InvitationInvalid, NameTaken
from shedbook.records.photos import PhotosFull
from shedbook.records.refusals import (
    CannotWrite,
    StoreBusy,
    StoreFull,
    StoreReadOnly,
    find_refusal,
)

Fields = Mapping[str, Any]
_log = logging.getLogger(__name__)


class ErrorKind(NamedTuple):
    """What an error code means over HTTP, and what to do about it."""

    status: int
    message: str
    hint: str


ERRORS: Mapping[str, ErrorKind] = {
    "broken_json": ErrorKind(
        400, "The body is not JSON.", "Send one JSON object, written in UTF-8."
    ),
    "not_paired": ErrorKind(
        401,
        "This device is not paired with the garden.",
        "Open a one-time link, or type the code that the shed shows.",
    ),
    "revoked": ErrorKind(
        401, "This device was revoked by the lead.", "Ask the lead for a new code."
    ),
    "not_permitted": ErrorKind(
        403, "Your role does not allow this.", "Ask the lead of the garden."
    ),
    "wrong_origin": ErrorKind(
        403,
        "The request does not come from a page of this shed.",
        "Open Shedbook at its own address; a program sends the header X-Shedbook: 1.",
    ),
    "not_found": ErrorKind(404, "There is nothing at this address.", "Check the address."),
    "not_allowed": ErrorKind(
        405, "This address does not take that method.", "GET /api/openapi.json lists what it takes."
    ),
    "too_large": ErrorKind(
        413, "The body is larger than 1 MiB.", "Send the entries in smaller batches."
    ),
    "not_json": ErrorKind(
        415, "The body must be JSON.", "Send the header Content-Type: application/json."
    ),
    "not_a_photo": ErrorKind(
        415,
        "The body must be an image.",
        "Send a JPEG or a WebP, and its type in the header Content-Type.",
    ),
    "photo_mismatch": ErrorKind(
        422,
        "The SHA-256 of these bytes is not the one in the address.",
        "Send the image whole, to the address of its own SHA-256.",
    ),
    "photo_unreadable": ErrorKind(
        422,
        "The bytes are no image that is taken.",
        "Draw the picture anew, small and without metadata, as the app does.",
    ),
    "bad_fields": ErrorKind(422, "Some fields can't be taken.", "Mend the fields that are named."),
    "too_many": ErrorKind(
        429, "Too many codes were tried.", "Wait a minute, then type the code again."
    ),
    "failed": ErrorKind(
        500, "The shed failed at this request.", "Try again; the shed's own output says more."
    ),
    "busy": ErrorKind(503, "The shed is busy.", "Try again in a few seconds."),
    "read_only": ErrorKind(
        503,
        "The shed's disk takes no writing. What it holds can still be read.",
        "Look at the disk and at the rights of the data folder; then send the same again.",
    ),
    "not_ready": ErrorKind(
        503, "The shed is not ready to take entries.", "Mend what the fields name."
    ),
    "photos_full": ErrorKind(
        507,
        "The photos of this garden have reached the shed's limit.",
        "Keep the photo on the phone, and ask who keeps the shed to raise the limit.",
    ),
    "no_room": ErrorKind(
        507,
        "The shed's disk is full. What it holds can still be read.",
        "Free room on the shed's disk; then send the same again.",
    ),
}

RETRY_AFTER_S = {"busy": 2, "too_many": 60, "no_room": 60, "read_only": 60}
_CODE_OF_REFUSAL: Mapping[type[CannotWrite], str] = {
    StoreBusy: "busy",
    StoreFull: "no_room",
    StoreReadOnly: "read_only",
}
_CODE_OF_STATUS = {404: "not_found", 405: "not_allowed", 413: "too_large", 415: "not_json"}


class ApiError(Exception):
    """An error that a resource answers with; what the table says may be made more precise."""

    def __init__(
        self,
        code: str,
        message: str | None = None,
        *,
        fields: Fields | None = None,
        hint: str | None = None,
    ) -> None:
        super().__init__(code)
        self.code = code
        self.message = message
        self.fields = fields or {}
        self.hint = hint


def register(app: Flask) -> None:
    """Turn every error that can leave a view into the one form."""
    app.register_error_handler(ApiError, _answer)
    app.register_error_handler(
        ValidationError,
        lambda error: _answer(ApiError("bad_fields", fields=error.normalized_messages())),
    )
    app.register_error_handler(CannotWrite, _answer_refusal)
    app.register_error_handler(DBAPIError, _answer_database)
    app.register_error_handler(GardenNotFound, lambda _: _answer(ApiError("not_found")))
    app.register_error_handler(
        NameTaken, lambda error: _answer(ApiError("bad_fields", fields={"name": [str(error)]}))
    )
    app.register_error_handler(
        ImageUnfit, lambda error: _answer(ApiError("photo_unreadable", str(error)))
    )
    app.register_error_handler(
        PhotosFull, lambda error: _answer(ApiError("photos_full", str(error)))
    )
    app.register_error_handler(InvitationInvalid, lambda _: _answer(_invalid_code()))
    app.register_error_handler(HTTPException, _answer_http)
    app.register_error_handler(Exception, _answer_unforeseen)


def _invalid_code() -> ApiError:
    return ApiError(
        "bad_fields",
        fields={"code": ["No open invitation has this code."]},
        hint="A code works once and for a short time. Ask the lead for a new one.",
    )


def _answer(error: ApiError) -> Response:
    kind = ERRORS[error.code]
    body = {
        "code": error.code,
        "message": error.message or kind.message,
        "fields": error.fields,
        "hint": error.hint or kind.hint,
    }
    response = jsonify({"error": body})
    response.status_code = kind.status
    if error.code in RETRY_AFTER_S:
        response.headers["Retry-After"] = str(RETRY_AFTER_S[error.code])
    return response


def _answer_http(error: HTTPException) -> Response:
    code = _CODE_OF_STATUS.get(error.code or 500)
    if code is None:
        # What Flask itself refuses (a redirect, a bad request line) keeps its own status.
        response = _answer(ApiError("failed", error.description, hint="Check the request."))
        response.status_code = error.code or 500
        return response
    answer = _answer(ApiError(code))
    answer.headers.extend((name, value) for name, value in error.get_headers() if name == "Allow")
    return answer


def _answer_refusal(refusal: CannotWrite) -> Response:
    return _answer(ApiError(_CODE_OF_REFUSAL[type(refusal)]))


def _answer_database(error: DBAPIError) -> Response:
    """A reader, too, meets a full or read-only disk where it needs a little room to read."""
    refusal = find_refusal(error, db.engine)
    return _answer_refusal(refusal) if refusal else _answer_unforeseen(error)


def _answer_unforeseen(error: Exception) -> Response:
    _log.error("failed", exc_info=error)
    return _answer(ApiError("failed"))
