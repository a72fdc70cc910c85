"""Where next season's wishes would go, worked out at the shed."""

from typing import Any

from flask import Blueprint
from marshmallow import Schema, fields

from shedbook.api.access import EVERY_ROLE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.findings import today_in
from shedbook.api.report_schemas import SeasonQuerySchema
from shedbook.log.moment import civil_date
from shedbook.records.ledgers import read_ledger
from shedbook.reports.proposal import propose

blueprint = Blueprint("proposal", __name__, url_prefix="/api/gardens/<garden>/proposal")

# A browser gives up after half a minute.
SECONDS = 15.0


class ProposalSchema(Schema):
    season = fields.Integer(required=True)
    day = fields.Integer(
        required=True, metadata={"description": "Thought of as the day of setting out."}
    )
    beds = fields.List(
        fields.Dict(), required=True, metadata={"description": "With what is placed in each."}
    )
    unmet = fields.List(
        fields.Dict(), required=True, metadata={"description": "Wishes without a bed, and why."}
    )
    cost = fields.Float(required=True, metadata={"description": "The weight of all conflicts."})
    bound = fields.Float(required=True, metadata={"description": "No placement costs less."})
    gap = fields.Float(required=True)
    is_best = fields.Boolean(required=True)


@blueprint.get("")
@endpoint(
    "A bed for each wish of a season, with the least conflict; next year's when none is named.",
    allow=EVERY_ROLE,
    query=SeasonQuerySchema,
    answer=ProposalSchema,
)
def index(call: Call) -> dict[str, Any]:
    today = today_in(call.paired.zone, call.now_ms)
    season = call.query.get("season", civil_date(today)[0] + 1)
    ledger = read_ledger(call.paired.garden_id)
    return propose(ledger, shed().rulebook, season, today, call.now_ms // 1000, SECONDS)
