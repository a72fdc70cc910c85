"""A season looked back on, worked out at the shed."""

from typing import Any

from flask import Blueprint

from shedbook.api.access import EVERY_ROLE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.findings import today_in
from shedbook.api.report_schemas import ReviewSchema, SeasonQuerySchema
from shedbook.log.moment import civil_date
from shedbook.records.ledgers import read_ledger
from shedbook.reports.review import review

blueprint = Blueprint("review", __name__, url_prefix="/api/gardens/<garden>/review")


@blueprint.get("")
@endpoint(
    "What each planting of a season gave and lost, and what the figures rest on.",
    allow=EVERY_ROLE,
    query=SeasonQuerySchema,
    answer=ReviewSchema,
)
def index(call: Call) -> dict[str, Any]:
    today = today_in(call.paired.zone, call.now_ms)
    season = call.query.get("season", civil_date(today)[0])
    ledger = read_ledger(call.paired.garden_id)
    return review(ledger, shed().rulebook, season, today, call.now_ms // 1000)
