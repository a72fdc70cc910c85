"""What came in and could not go into the log."""

import json
from typing import Any

from flask import Blueprint

from shedbook.api.access import EVERY_ROLE
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.schemas import SetAsideListSchema
from shedbook.records.entries import set_aside_entries
from shedbook.records.models import db

blueprint = Blueprint("set_aside", __name__, url_prefix="/api/gardens/<garden>/set-aside")


@blueprint.get("")
@endpoint(
    "Entries that no other entry has mended yet.", allow=EVERY_ROLE, answer=SetAsideListSchema
)
def index(call: Call) -> dict[str, Any]:
    return {
        "entries": [
            {
                "id": row.entry_id,
                "notebook": row.notebook_id,
                "number": row.number,
                "person": row.person_id,
                "raw": row.raw,
                "problems": json.loads(row.problems),
                "received_at_ms": row.received_at_ms,
            }
            for row in set_aside_entries(db.session(), call.paired.garden_id)
        ]
    }
