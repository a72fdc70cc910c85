"""The exchange of a phone with the shed: send what waits, get what is new."""

from dataclasses import asdict

from flask import Blueprint, Response

from shedbook.api.access import EVERY_ROLE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.log_pages import with_entries
from shedbook.api.schemas import SyncAnswerSchema, SyncRequestSchema, SyncResponseSchema
from shedbook.sync.accept import Answer
from shedbook.sync.exchange import Request, exchange

blueprint = Blueprint("sync", __name__, url_prefix="/api/gardens/<garden>/sync")


@blueprint.post("")
@endpoint(
    "Send entries and get those of others. Each entry is answered by itself, and sending one again "
    "changes nothing.",
    # A reader pulls this way too; each entry that a reader sends is refused.
    allow=EVERY_ROLE,
    body=SyncRequestSchema,
    answer=SyncResponseSchema,
    errors=["busy"],
)
def post(call: Call) -> Response:
    paired = call.paired
    result = exchange(paired, Request(**call.body), call.now_ms)
    answer = SyncAnswerSchema().dump(
        {
            "answers": [_without_empty(one) for one in result.answers],
            "notebook": result.notebook,
            "cursor": result.cursor,
            "head": result.head,
            "epoch": result.epoch,
            "server_time_ms": call.now_ms,
            "devices": result.devices,
            "people": result.people,
            "assets": shed().assets_digest,
            "you": {
                "device": paired.device_id,
                "person": paired.person_id,
                "role": paired.role,
            },
        }
    )
    return with_entries(answer, result.entries)


def _without_empty(answer: Answer) -> dict[str, object]:
    """An answer without the parts that say nothing; id and number are always there."""
    told = asdict(answer)
    return {
        name: value
        for name, value in told.items()
        if name in {"id", "number"} or value not in (None, {})
    }
