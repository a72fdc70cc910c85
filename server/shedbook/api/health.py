"""Whether the shed answers, and whether it can take entries: for a process manager or a proxy."""

from typing import Any

from flask import Blueprint

from shedbook.api.access import ANYONE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.errors import ApiError
from shedbook.api.schemas import HealthSchema

blueprint = Blueprint("health", __name__)


@blueprint.get("/healthz")
@endpoint("The shed answers. Nothing is read.", allow=[ANYONE], answer=HealthSchema)
def alive(_: Call) -> dict[str, Any]:
    return {"status": "ok"}


@blueprint.get("/readyz")
@endpoint(
    "The store can be read and written, its tables and the clock are right, the disk has room.",
    allow=[ANYONE],
    answer=HealthSchema,
    errors=["not_ready"],
)
def ready(call: Call) -> dict[str, Any]:
    problems = shed().readiness.find_problems(call.now_ms)
    if problems:
        raise ApiError("not_ready", fields=problems)
    return {"status": "ok"}
