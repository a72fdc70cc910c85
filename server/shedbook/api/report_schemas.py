"""What the reports take and answer; what they hold is said by the functions that make them."""

from marshmallow import Schema, fields, validate

from shedbook.api.schemas import MessageSchema, check_id


class SeasonQuerySchema(Schema):
    season = fields.Integer(
        validate=validate.Range(1970, 2199), metadata={"description": "A year; else this one."}
    )


class ReviewSchema(Schema):
    season = fields.Integer(required=True)
    is_over = fields.Boolean(required=True)
    plantings = fields.List(
        fields.Dict(), required=True, metadata={"description": "Earliest first; null: not known."}
    )
    losses = fields.List(fields.Dict(), required=True, metadata={"description": "By cause."})
    treatments = fields.List(fields.Dict(), required=True, metadata={"description": "As events."})
    thirst = fields.Dict(
        required=True,
        allow_none=True,
        metadata={"description": "Reference evapotranspiration; null: not known."},
    )


class ScoutingQuerySchema(Schema):
    bed = fields.String(validate=check_id)
    organism = fields.String(validate=validate.Length(1, 80))


class HotSpotSchema(MessageSchema):
    """Whether the affected plants stand together, as a word key with its figures."""


class RoundSchema(Schema):
    day = fields.Integer(required=True, metadata={"description": "Days since 1970-01-01."})
    looked = fields.Float(required=True, allow_none=True)
    affected = fields.Float(required=True, allow_none=True)
    affected_share = fields.Float(required=True, allow_none=True)
    low_share = fields.Float(
        required=True, allow_none=True, metadata={"description": "Wilson's limits, 95 %."}
    )
    high_share = fields.Float(required=True, allow_none=True)
    mean = fields.Float(required=True, allow_none=True)
    per = fields.String(required=True)
    decision = fields.String(required=True, metadata={"description": "Against the threshold."})
    clumping = fields.Dict(required=True, allow_none=True)
    hot_spot = fields.Nested(HotSpotSchema, required=True)


class LookedSchema(Schema):
    bed = fields.String(required=True, allow_none=True)
    planting = fields.String(required=True)
    organism = fields.String(required=True)
    is_helpful = fields.Boolean(required=True)
    sessions = fields.List(fields.Nested(RoundSchema), required=True)
    progress = fields.Dict(
        required=True,
        allow_none=True,
        metadata={"description": "Area under the curve of disease progress, percent times days."},
    )


class CaughtSchema(Schema):
    trap = fields.String(required=True)
    organism = fields.String(required=True)
    bed = fields.String(required=True, allow_none=True)
    weeks = fields.List(fields.Dict(), required=True)


class ScoutingSchema(Schema):
    today = fields.Integer(required=True)
    looked = fields.List(fields.Nested(LookedSchema), required=True)
    catches = fields.List(fields.Nested(CaughtSchema), required=True)
