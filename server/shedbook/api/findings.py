"""What is due in a garden and what must not be done yet, with the words for it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from flask import Blueprint

from shedbook.api.access import EVERY_ROLE
from shedbook.api.context import shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.language import words_for_caller
from shedbook.api.names import names_of_garden
from shedbook.api.schemas import FindingsQuerySchema, FindingsSchema
from shedbook.log.moment import day_text, parse_day
from shedbook.records.gardens import is_zone
from shedbook.records.models import db
from shedbook.records.notebooks import present_devices
from shedbook.records.standing import Moment, standing_of_garden
from shedbook.words import finding_text

blueprint = Blueprint("findings", __name__, url_prefix="/api/gardens/<garden>/findings")

DAY_SECONDS = 86_400


@dataclass(frozen=True)
class _Asked:
    moment: Moment
    is_today: bool


@blueprint.get("")
@endpoint(
    "All findings, or those of one state or bed, with their texts in the language that the request "
    "accepts.",
    allow=EVERY_ROLE,
    query=FindingsQuerySchema,
    answer=FindingsSchema,
)
def index(call: Call) -> dict[str, Any]:
    garden_id, zone = call.paired.garden_id, call.paired.zone
    asked = _asked(call.query.get("today"), zone, call.now_ms)
    rulebook = shed().rulebook
    words = words_for_caller()
    standing = standing_of_garden(
        garden_id, rulebook, asked.moment, keep=asked.is_today, bed=call.query.get("bed")
    )
    names = names_of_garden(db.session(), garden_id, words)
    rules = {rule["id"]: rule for rule in rulebook["rules"]}
    return {
        "as_of_ms": standing.as_of_s * 1000,
        "head": standing.head,
        "today": day_text(asked.moment.today),
        "digest": rulebook["digest"],
        "findings": [
            finding | {"text": finding_text(words, finding, rules[finding["rule"]], names, zone)}
            for finding in standing.findings
            if _is_asked_for(finding, call.query)
        ],
        "devices": present_devices(db.session(), garden_id),
    }


def today_in(zone: str, now_ms: int) -> int:
    """The day that the garden has at this moment, as a number of days since 1970."""
    there = ZoneInfo(zone) if is_zone(zone) else UTC
    return parse_day(datetime.fromtimestamp(now_ms / 1000, there).date().isoformat())


def _asked(today: str | None, zone: str, now_ms: int) -> _Asked:
    """Another day is looked at from the same time of its day."""
    actual = today_in(zone, now_ms)
    day = actual if today is None else parse_day(today)
    now_s = now_ms // 1000 + (day - actual) * DAY_SECONDS
    return _Asked(Moment(day, now_s), day == actual)


def _is_asked_for(finding: Mapping[str, Any], query: Mapping[str, Any]) -> bool:
    return query.get("state") in (None, finding["state"]) and query.get("bed") in (
        None,
        finding["subject"].get("bed"),
    )
