"""The exchange of a phone with the shed: send what waits, get what is new."""

import functools

from flask import Blueprint, Response

from shedbook.api.access import EVERY_ROLE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.log_pages import NO_PAGE, Place, answer_with, read_page
from shedbook.api.schemas import SyncAnswerSchema, SyncRequestSchema, SyncResponseSchema
from shedbook.records.models import db
from shedbook.sync.accept import Answer
from shedbook.sync.exchange import Request, exchange

# Every result has the first of an answer's parts; what is empty among the others is left out.
_ALWAYS, _PERHAPS = Answer._fields[:3], Answer._fields[3:]

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
    limit, form = call.body.pop("page"), call.body.pop("form")
    result = exchange(paired, Request(**call.body), call.now_ms)
    page = NO_PAGE
    if result.cursor < result.head:
        place = Place(paired.garden_id, result.epoch, result.cursor, limit)
        page = read_page(db.session(), place, form, shed().kept_pages)
    reached = result.cursor + page.count
    answer = _around_answers().dump(
        {
            "notebook": result.notebook,
            "cursor": reached,
            # On PostgreSQL a page may hold entries that came after the head was read.
            "head": max(result.head, reached),
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
    return answer_with(page, answer | {"answers": [_told(one) for one in result.answers]})


@functools.cache
def _around_answers() -> SyncAnswerSchema:
    """The schema without the answers, which are JSON as they are: dumping 500 of them one by one
    takes longer than storing their entries."""
    return SyncAnswerSchema(exclude=["answers"])


def _told(answer: Answer) -> dict[str, object]:
    """An answer without the parts that say nothing; id, number and result are always there."""
    told: dict[str, object] = dict(zip(_ALWAYS, answer, strict=False))
    perhaps = zip(_PERHAPS, answer[len(_ALWAYS) :], strict=True)
    return told | {name: value for name, value in perhaps if value}
