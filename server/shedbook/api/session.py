"""The session: a device pairs itself with a one-time code, and can leave again."""

from flask import Blueprint, Response, jsonify, request

from shedbook.api.access import (
    ANYONE,
    EVERY_ROLE,
    cookie_name,
    give_secret,
    take_secret,
)
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.errors import ApiError
from shedbook.api.schemas import SessionSchema, SpendSchema
from shedbook.records.people import (
    InvitationInvalid,
    Paired,
    revoke_device,
    spend_invitation,
)

blueprint = Blueprint("session", __name__, url_prefix="/api/session")


@blueprint.post("")
@endpoint(
    "Pair this device by a one-time code.",
    allow=[ANYONE],
    body=SpendSchema,
    answer=SessionSchema,
    status=201,
    errors=["too_many"],
)
def pair(call: Call) -> Response:
    address = request.remote_addr or ""
    limit = shed().spend_limit
    if not limit.allows(address, call.now_ms):
        raise ApiError("too_many")
    try:
        paired, secret = spend_invitation(
            call.body["code"], call.body["device_name"], at_ms=call.now_ms
        )
    except InvitationInvalid:
        limit.record_failure(address, call.now_ms)
        raise
    response = _answer(paired)
    response.status_code = 201
    give_secret(response, secret)
    return response


@blueprint.get("")
@endpoint("Who this device is.", allow=EVERY_ROLE, answer=SessionSchema)
def show(call: Call) -> Response:
    response = _answer(call.paired)
    # Browsers forget a cookie after 400 days; one that is used stays.
    give_secret(response, request.cookies[cookie_name()])
    return response


@blueprint.delete("")
@endpoint("Leave: this device's secret is worth nothing afterwards.", allow=EVERY_ROLE, status=204)
def leave(call: Call) -> Response:
    revoke_device(call.paired.garden_id, call.paired.device_id, at_ms=call.now_ms)
    response = Response(status=204)
    take_secret(response)
    return response


def _answer(paired: Paired) -> Response:
    return jsonify(
        SessionSchema().dump(
            {
                "garden": {
                    "id": paired.garden_id,
                    "name": paired.garden_name,
                    "zone": paired.zone,
                },
                "device": {"id": paired.device_id, "name": paired.device_name},
                "person": {"id": paired.person_id, "name": paired.person_name},
                "role": paired.role,
            }
        )
    )
