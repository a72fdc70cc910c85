"""Private calendar addresses: made and shut by a paired device, fetched by a calendar program."""

from typing import Any

from flask import Blueprint, Response
from marshmallow import Schema, fields, validate

from shedbook.api.access import ANYONE, EVERY_ROLE
from shedbook.api.calendar_events import calendar_of
from shedbook.api.context import own_origin, shed
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.errors import ApiError
from shedbook.api.findings import today_in
from shedbook.api.names import names_of_garden
from shedbook.records.calendars import (
    create_calendar,
    find_subscribed,
    open_calendars,
    revoke_calendar,
)
from shedbook.records.models import db
from shedbook.records.people import Paired
from shedbook.records.standing import Moment, standing_of_garden
from shedbook.words import languages, load_words

blueprint = Blueprint("calendars", __name__)

_OF_GARDEN = "/api/gardens/<garden>/calendars"


class CalendarRequestSchema(Schema):
    language = fields.String(required=True, validate=validate.OneOf(list(languages())))


class CalendarStateSchema(Schema):
    id = fields.String(required=True)
    person = fields.String(required=True, metadata={"description": "Name of whose it is."})
    created_at_ms = fields.Integer(required=True)
    own = fields.Boolean(required=True)


class CalendarSchema(Schema):
    id = fields.String(required=True)
    address = fields.String(
        required=True,
        metadata={"description": "Told this once. Whoever knows it can read what is due."},
    )


class CalendarsSchema(Schema):
    calendars = fields.List(fields.Nested(CalendarStateSchema), required=True)


@blueprint.post(_OF_GARDEN)
@endpoint(
    "Make a private address from which a calendar program fetches what is due.",
    allow=EVERY_ROLE,
    body=CalendarRequestSchema,
    answer=CalendarSchema,
    status=201,
)
def create(call: Call) -> dict[str, Any]:
    paired = call.paired
    calendar_id, token = create_calendar(
        paired.garden_id, paired.person_id, call.body["language"], at_ms=call.now_ms
    )
    return {"id": calendar_id, "address": f"{own_origin()}/calendar/{token}.ics"}


@blueprint.get(_OF_GARDEN)
@endpoint(
    "The calendar addresses that work: one's own; the lead sees everybody's.",
    allow=EVERY_ROLE,
    answer=CalendarsSchema,
)
def index(call: Call) -> dict[str, Any]:
    paired = call.paired
    return {
        "calendars": open_calendars(
            db.session(), paired.garden_id, paired.person_id, of_all=_sees_all(paired)
        )
    }


@blueprint.delete(f"{_OF_GARDEN}/<calendar>")
@endpoint("Shut a calendar address.", allow=EVERY_ROLE, status=204)
def revoke(call: Call, calendar: str) -> None:
    paired = call.paired
    is_shut = revoke_calendar(
        paired.garden_id,
        calendar,
        paired.person_id,
        of_all=_sees_all(paired),
        at_ms=call.now_ms,
    )
    if not is_shut:
        raise ApiError("not_found", "You have no such calendar in this garden.")


@blueprint.get("/calendar/<token>.ics")
@endpoint("What is due, as a calendar (RFC 5545).", allow=[ANYONE])
def fetch(call: Call, token: str) -> Response:
    subscribed = find_subscribed(token)
    if subscribed is None:
        raise ApiError("not_found")
    rulebook = shed().rulebook
    words = load_words(subscribed.language)
    today = today_in(subscribed.zone, call.now_ms)
    standing = standing_of_garden(
        subscribed.garden_id, rulebook, Moment(today, call.now_ms // 1000)
    )
    text = calendar_of(
        standing.findings,
        {rule["id"]: rule for rule in rulebook["rules"]},
        names_of_garden(db.session(), subscribed.garden_id, words),
        words,
        garden_name=subscribed.garden_name,
        zone=subscribed.zone,
        today=today,
        as_of_s=standing.as_of_s,
    )
    response = Response(text, content_type="text/calendar; charset=utf-8")
    response.headers["Cache-Control"] = "no-store"
    return response


def _sees_all(paired: Paired) -> bool:
    return paired.role == "lead"
