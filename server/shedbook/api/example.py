"""An example garden to play in: a season for the phone alone, of which the shed keeps nothing."""

import functools
import importlib
import random
import sys
from datetime import date
from typing import Any

from flask import Blueprint
from marshmallow import Schema, fields, validate

from shedbook import places
from shedbook.api.access import EVERY_ROLE
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.findings import today_in
from shedbook.log.identity import RANDOM_BYTES, new_id
from shedbook.log.moment import civil_date
from shedbook.records.gardens import is_zone

blueprint = Blueprint("example", __name__, url_prefix="/api/example")

MOST_KEPT = 4
_DAY_MS = 24 * 60 * 60 * 1000


class ExampleQuerySchema(Schema):
    zone = fields.String(required=True, validate=validate.Length(max=64))


class NamedSchema(Schema):
    id = fields.String(required=True)
    name = fields.String(required=True)


class ExampleSchema(Schema):
    garden = fields.Dict(
        required=True, metadata={"description": "Id, name and zone; no garden of the shed's."}
    )
    person = fields.Nested(NamedSchema, required=True)
    device = fields.Nested(NamedSchema, required=True)
    people = fields.List(fields.Nested(NamedSchema), required=True)
    entries = fields.List(
        fields.Dict(), required=True, metadata={"description": "A season up to yesterday evening."}
    )


@blueprint.get("")
@endpoint(
    "An example garden, made for a phone to play in; none of it is stored here.",
    allow=EVERY_ROLE,
    query=ExampleQuerySchema,
    answer=ExampleSchema,
)
def show(call: Call) -> dict[str, Any]:
    zone = call.query["zone"] if is_zone(call.query["zone"]) else "UTC"
    return _example(today_in(zone, call.now_ms), zone)


@functools.lru_cache(maxsize=MOST_KEPT)
def _example(today: int, zone: str) -> dict[str, Any]:
    """The demo's season as three phones would have written it, in one garden of its own."""
    seed_demo, notebook, place = (_demo(name) for name in ("", ".notebook", ".place"))
    chance = random.Random("example")
    new = functools.partial(_id, today * _DAY_MS, chance)
    garden = new()
    identities = {phone: notebook.Identity(garden, new(), new()) for phone in place.PEOPLE}
    year, month, day = civil_date(today)
    season = seed_demo.draft_season(date(year, month, day), zone)
    written = notebook.write_notebooks(season.drafts, identities, zone)
    people = [
        {"id": identities[phone].person, "name": name} for phone, name in place.PEOPLE.items()
    ]
    lead = identities["lead"]
    return {
        "garden": {"id": garden, "name": place.GARDEN_NAME, "zone": zone},
        "person": {"id": lead.person, "name": place.PEOPLE["lead"]},
        "device": {"id": lead.device, "name": place.DEVICE_NAMES["lead"]},
        "people": people,
        "entries": [entry for one in written.values() for entry in one.entries],
    }


def _id(now_ms: int, chance: random.Random) -> str:
    return new_id(now_ms, chance.randbytes(RANDOM_BYTES))


def _demo(name: str) -> Any:
    """A module of the demo's own package, which lies beside shedbook, not in it."""
    beside = str(places.SEED_DEMO.parent)
    if beside not in sys.path:
        sys.path.append(beside)
    return importlib.import_module(f"seed_demo{name}")
