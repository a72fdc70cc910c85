"""The bodies of the HTTP interface. An entry's details have their schemas in shedbook.log.kinds."""

from typing import Any

from marshmallow import EXCLUDE, Schema, ValidationError, fields, validate, validates

from shedbook.api.page_schemas import ColumnsSchema
from shedbook.log.identity import is_id
from shedbook.log.kinds.texts import say
from shedbook.log.moment import parse_day
from shedbook.records.people import ROLES

BATCH_LIMIT = 500
PAGE_LIMIT = 2000
NAME_LIMIT = 80
LARGEST_NUMBER = 2**53 - 1
# Of an entry's number in its notebook.
LARGEST_COUNT = 2**31 - 1
STATES = ("upcoming", "due", "overdue", "blocked", "unknown", "flagged", "noted")

_name = validate.And(
    validate.Length(min=1, max=NAME_LIMIT),
    validate.Regexp(r"[^\x00-\x1f\x7f\ud800-\udfff]*\Z", error="Must be one line of plain text."),
    validate.Regexp(r"(?s).*\S", error="Must not be empty."),
)
_count = validate.Range(min=0, max=LARGEST_NUMBER)
_sha256 = validate.Regexp(r"[0-9a-f]{64}\Z", error=say("not_a_sha256"))


def check_id(value: str) -> None:
    if not is_id(value):
        raise ValidationError("Must be a UUID in lower case, with dashes.")


def _texts_by_path(description: str) -> fields.Dict:
    return fields.Dict(
        keys=fields.String(),
        values=fields.List(fields.String()),
        metadata={"description": description},
    )


class PersonSchema(Schema):
    id = fields.String(required=True)
    name = fields.String(required=True)


class GardenSchema(Schema):
    id = fields.String(required=True)
    name = fields.String(required=True)
    zone = fields.String(required=True, metadata={"description": "IANA time zone."})


class SpendSchema(Schema):
    code = fields.String(
        required=True,
        validate=validate.Length(min=1, max=100),
        metadata={"description": "The one-time code of an invitation."},
    )
    device_name = fields.String(required=True, validate=_name)


class SessionSchema(Schema):
    garden = fields.Nested(GardenSchema, required=True)
    device = fields.Nested(PersonSchema, required=True)
    person = fields.Nested(PersonSchema, required=True)
    role = fields.String(required=True, validate=validate.OneOf(ROLES))


class InviteSchema(Schema):
    name = fields.String(required=True, validate=_name, metadata={"description": "The person."})
    role = fields.String(required=True, validate=validate.OneOf(ROLES))


class InvitationSchema(Schema):
    code = fields.String(required=True)
    link = fields.String(required=True)
    qr_svg = fields.String(required=True, metadata={"description": "The link as an SVG picture."})
    expires_at_ms = fields.Integer(required=True)


class SyncDeviceSchema(Schema):
    id = fields.String(required=True)
    name = fields.String(required=True)
    person = fields.String(required=True)
    role = fields.String(required=True, validate=validate.OneOf(ROLES))
    heard_at_ms = fields.Integer(required=True, allow_none=True)
    waiting = fields.Integer(
        required=True, metadata={"description": "Entries it had not sent when last heard."}
    )
    missing = fields.Integer(
        required=True, metadata={"description": "Numbers below its highest that have not come in."}
    )


class DeviceSchema(SyncDeviceSchema):
    revoked_at_ms = fields.Integer(required=True, allow_none=True)


class DevicesSchema(Schema):
    devices = fields.List(fields.Nested(DeviceSchema), required=True)


class SubjectsSchema(Schema):
    bed = fields.String()
    planting = fields.String()
    plants = fields.List(fields.Integer())


class EntrySchema(Schema):
    """How an entry is described; what is stored and sent is the entry itself, unknown keys kept."""

    id = fields.String(required=True, metadata={"description": "UUID, version 7 of RFC 9562."})
    garden = fields.String(required=True)
    notebook = fields.String(required=True)
    number = fields.Integer(required=True, validate=validate.Range(min=1))
    kind = fields.String(required=True)
    version = fields.Integer(required=True, validate=validate.Range(min=1))
    subjects = fields.Nested(SubjectsSchema, required=True)
    happened_at = fields.String(required=True, metadata={"example": "2026-06-01T07:40:00+02:00"})
    recorded_at = fields.String(required=True)
    clock = fields.String(required=True, validate=validate.Regexp(r"[0-9a-f]{16}\Z"))
    device = fields.String(required=True)
    person = fields.String(required=True)
    details = fields.Dict(required=True)
    answers = fields.String(metadata={"description": "Key of the finding that it settles."})
    mends = fields.String(metadata={"description": "Id of the set-aside entry that it replaces."})


class StoredEntrySchema(EntrySchema):
    seq = fields.Integer(required=True)
    order = fields.String(required=True)
    received_at = fields.Integer(required=True)


class AnyList(fields.List[Any]):
    """A list whose items are taken as they are: asking 500 of them one by one is felt."""

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> list[Any]:
        if not isinstance(value, list):
            raise self.make_error("invalid")
        return value


class SyncRequestSchema(Schema):
    """The entries are not checked here: one that is wrong must not stop the others."""

    class Meta:
        # A phone may be newer than the shed.
        unknown = EXCLUDE

    notebook = fields.String(required=True)
    entries = AnyList(
        fields.Raw(allow_none=True),
        load_default=list,
        validate=validate.Length(max=BATCH_LIMIT),
    )
    cursor = fields.Integer(strict=True, load_default=0, validate=_count)
    epoch = fields.String(load_default=None, allow_none=True)
    waiting = fields.Integer(strict=True, load_default=0, validate=_count)
    given_up = fields.List(
        fields.Integer(strict=True, validate=validate.Range(min=1, max=LARGEST_COUNT)),
        load_default=list,
        validate=validate.Length(max=BATCH_LIMIT),
        metadata={
            "description": "Numbers of the notebook that no entry will come under: written again "
            "under another number before they were sent, or put away. They count as arrived."
        },
    )
    page = fields.Integer(
        strict=True, load_default=PAGE_LIMIT, validate=validate.Range(min=1, max=PAGE_LIMIT)
    )
    form = fields.String(
        load_default="rows",
        metadata={
            "description": "How the page of the log is told: `columns` is shorter; whatever else "
            "is asked for, even what is not known here, is answered as rows."
        },
    )

    @validates("notebook")
    def check_notebook(self, value: str, **_: object) -> None:
        # Empty: a phone on which nothing was written yet has no notebook.
        if value:
            check_id(value)


class AnswerSchema(Schema):
    id = fields.String(required=True, allow_none=True)
    number = fields.Integer(required=True, allow_none=True)
    result = fields.String(
        required=True,
        validate=validate.OneOf(["accepted", "known", "set_aside", "refused", "forked"]),
    )
    seq = fields.Integer()
    order = fields.String()
    remarks = _texts_by_path("What is odd about the entry, by the path of the field.")
    problems = _texts_by_path("What is wrong with the entry, by the path of the field.")
    hint = fields.String()


class NotebookSchema(Schema):
    id = fields.String(required=True)
    unbroken = fields.Integer(required=True)
    missing = fields.List(fields.Integer(), required=True)
    highest = fields.Integer(
        required=True,
        metadata={
            "description": "The last number known. Numbers above it that the shed had answered are "
            "lost there, and are sent again."
        },
    )


class YouSchema(Schema):
    device = fields.String(required=True)
    person = fields.String(required=True)
    role = fields.String(required=True)


class SyncAnswerSchema(Schema):
    """All of the answer but its page of the log, which is put in as the JSON that it is."""

    answers = fields.List(fields.Nested(AnswerSchema), required=True)
    notebook = fields.Nested(NotebookSchema, required=True)
    cursor = fields.Integer(required=True)
    head = fields.Integer(required=True)
    epoch = fields.String(required=True)
    server_time_ms = fields.Integer(required=True)
    devices = fields.List(fields.Nested(SyncDeviceSchema), required=True)
    people = fields.List(
        fields.Nested(PersonSchema),
        required=True,
        metadata={"description": "Everyone who has ever written in this garden, by id."},
    )
    assets = fields.String(required=True)
    you = fields.Nested(YouSchema, required=True)


class SyncResponseSchema(SyncAnswerSchema):
    entries = fields.List(
        fields.Nested(StoredEntrySchema),
        metadata={"description": "The page as rows; an empty page is told so in either form."},
    )
    columns = fields.Nested(
        ColumnsSchema, metadata={"description": "The page in columns, instead of `entries`."}
    )


class EntriesQuerySchema(Schema):
    after = fields.Integer(load_default=0, validate=_count)
    limit = fields.Integer(load_default=PAGE_LIMIT, validate=validate.Range(min=1, max=PAGE_LIMIT))


class EntriesPageSchema(Schema):
    """The part of a page that is not the entries themselves."""

    cursor = fields.Integer(required=True)
    head = fields.Integer(required=True)
    epoch = fields.String(required=True)


class EntriesSchema(EntriesPageSchema):
    entries = fields.List(fields.Nested(StoredEntrySchema), required=True)


class SetAsideSchema(Schema):
    id = fields.String(required=True)
    notebook = fields.String(required=True)
    number = fields.Integer(required=True)
    person = fields.String(required=True)
    raw = fields.String(required=True, metadata={"description": "The entry as it came, as text."})
    problems = _texts_by_path("Why it can't be in the log.")
    received_at_ms = fields.Integer(required=True)


class SetAsideListSchema(Schema):
    entries = fields.List(fields.Nested(SetAsideSchema), required=True)


class PhotoSchema(Schema):
    sha256 = fields.String(required=True, validate=_sha256)
    bytes = fields.Integer(required=True)


class PhotoHashesSchema(Schema):
    sha256 = fields.List(
        fields.String(validate=_sha256), required=True, validate=validate.Length(max=BATCH_LIMIT)
    )


class MissingPhotosSchema(Schema):
    missing = fields.List(fields.String(), required=True)


class FindingsQuerySchema(Schema):
    state = fields.String(validate=validate.OneOf(STATES))
    bed = fields.String(validate=check_id)
    today = fields.String(metadata={"description": "YYYY-MM-DD; else the day in the garden."})

    @validates("today")
    def check_today(self, value: str, **_: object) -> None:
        try:
            parse_day(value)
        except ValueError as error:
            raise ValidationError("Must be a day such as 2026-06-01.") from error


class MessageSchema(Schema):
    key = fields.String(required=True)
    values = fields.Dict(required=True)


class FindingTextSchema(Schema):
    title = fields.String(required=True)
    message = fields.String(required=True)
    reasons = fields.List(fields.String(), required=True)
    source = fields.String(required=True, allow_none=True)
    caution = fields.String(required=True, allow_none=True)


class FindingSchema(Schema):
    key = fields.String(required=True)
    rule = fields.String(required=True)
    subject = fields.Nested(SubjectsSchema, required=True)
    state = fields.String(required=True, validate=validate.OneOf(STATES))
    opens = fields.Integer(allow_none=True, metadata={"description": "Days since 1970-01-01."})
    due = fields.Integer(allow_none=True)
    closes = fields.Integer(allow_none=True)
    from_ = fields.Integer(
        attribute="from",
        data_key="from",
        allow_none=True,
        metadata={"description": "Seconds since 1970."},
    )
    until = fields.Integer(allow_none=True)
    entries = fields.List(fields.String(), required=True)
    settles = fields.Dict(allow_none=True)
    blocks = fields.List(fields.String())
    message = fields.Nested(MessageSchema, required=True)
    reasons = fields.List(fields.Nested(MessageSchema), required=True)
    blocked_by = fields.String()
    was = fields.String()
    text = fields.Nested(FindingTextSchema, required=True)


class FindingsSchema(Schema):
    as_of_ms = fields.Integer(required=True)
    head = fields.Integer(required=True)
    today = fields.String(required=True)
    digest = fields.String(required=True, metadata={"description": "Of the rulebook."})
    findings = fields.List(fields.Nested(FindingSchema), required=True)
    devices = fields.List(
        fields.Nested(SyncDeviceSchema),
        required=True,
        metadata={"description": "What a silent device holds is in no finding yet."},
    )


class ErrorBodySchema(Schema):
    code = fields.String(required=True)
    message = fields.String(required=True)
    fields_ = fields.Dict(data_key="fields", required=True)
    hint = fields.String(required=True)


class ErrorSchema(Schema):
    error = fields.Nested(ErrorBodySchema, required=True)


class HealthSchema(Schema):
    status = fields.String(required=True)
