"""The log, page by page, for programs that only read."""

from flask import Blueprint, Response

from shedbook.api.access import EVERY_ROLE
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.log_pages import with_entries
from shedbook.api.schemas import EntriesPageSchema, EntriesQuerySchema, EntriesSchema
from shedbook.records.entries import entries_after
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
    entries = entries_after(session, garden.id, after, call.query["limit"])
    reached = after + len(entries)
    page = {"cursor": reached, "head": max(garden.head, reached), "epoch": garden.epoch}
    if after > garden.head:
        page |= {"cursor": garden.head, "head": garden.head}
    return with_entries(EntriesPageSchema().dump(page), entries)
