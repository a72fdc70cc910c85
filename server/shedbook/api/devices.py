"""The devices of a garden, and how one is shut out."""

from typing import Any

from flask import Blueprint

from shedbook.api.access import EVERY_ROLE
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.errors import ApiError
from shedbook.api.schemas import DevicesSchema
from shedbook.records.models import db
from shedbook.records.notebooks import device_states
from shedbook.records.people import revoke_device

blueprint = Blueprint("devices", __name__, url_prefix="/api/gardens/<garden>/devices")


@blueprint.get("")
@endpoint("Every device that was ever paired.", allow=EVERY_ROLE, answer=DevicesSchema)
def index(call: Call) -> dict[str, Any]:
    return {"devices": device_states(db.session(), call.paired.garden_id)}


@blueprint.delete("/<device>")
@endpoint("Revoke a device.", allow=["lead"], status=204)
def revoke(call: Call, device: str) -> None:
    if not revoke_device(call.paired.garden_id, device, at_ms=call.now_ms):
        raise ApiError("not_found", "This garden has no such device.")
