"""The log, page by page, for programs that only read."""

from flask import Blueprint, Response

from shedbook.api.access import EVERY_ROLE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.log_pages import ROWS, Place, answer_with, read_page
from shedbook.api.schemas import EntriesPageSchema, EntriesQuerySchema, EntriesSchema
from shedbook.records.gardens import get_garden
from shedbook.records.models import db

blueprint = Blueprint("entries", __name__, url_prefix="/api/gardens/<garden>/entries")


@blueprint.get("")
@endpoint(
    "Entries of the log above a sequence number, in its order.",
    allow=EVERY_ROLE,
    query=EntriesQuerySchema,
    answer=EntriesSchema,
)
def index(call: Call) -> Response:
    session = db.session()
    garden = get_garden(session, call.paired.garden_id)
    after = call.query["after"]
    place = Place(garden.id, garden.epoch, after, call.query["limit"])
    page = read_page(session, place, ROWS, shed().kept_pages)
    reached = after + page.count
    rest = {"cursor": reached, "head": max(garden.head, reached), "epoch": garden.epoch}
    if after > garden.head:
        rest |= {"cursor": garden.head, "head": garden.head}
    return answer_with(page, EntriesPageSchema().dump(rest))
