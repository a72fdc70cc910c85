"""What was looked for on the plants, round by round, worked out at the shed."""

from typing import Any

from flask import Blueprint

from shedbook.api.access import EVERY_ROLE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.findings import today_in
from shedbook.api.report_schemas import ScoutingQuerySchema, ScoutingSchema
from shedbook.records.ledgers import read_ledger
from shedbook.reports.scouting import scouting_report

blueprint = Blueprint("scouting", __name__, url_prefix="/api/gardens/<garden>/scouting")


@blueprint.get("")
@endpoint(
    "What was looked for on the plants, with hot spots and the progress of disease.",
    allow=EVERY_ROLE,
    query=ScoutingQuerySchema,
    answer=ScoutingSchema,
)
def index(call: Call) -> dict[str, Any]:
    today = today_in(call.paired.zone, call.now_ms)
    ledger = read_ledger(call.paired.garden_id)
    asked = call.query.get("bed"), call.query.get("organism")
    return scouting_report(ledger, shed().rulebook, today, call.now_ms // 1000, *asked)
