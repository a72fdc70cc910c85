"""Whether the shed stands: for a process manager or a proxy."""

from typing import Any

from flask import Blueprint
from sqlalchemy import text

from shedbook.api.access import ANYONE
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.schemas import HealthSchema
from shedbook.records.models import db

blueprint = Blueprint("health", __name__, url_prefix="/healthz")


@blueprint.get("")
@endpoint("The shed answers and reaches its store.", allow=[ANYONE], answer=HealthSchema)
def show(_: Call) -> dict[str, Any]:
    db.session.execute(text("SELECT 1"))
    return {"status": "ok"}
