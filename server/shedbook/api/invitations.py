"""Invitations: the lead lets another device in."""

import io
from typing import Any

import segno
from flask import Blueprint

from shedbook.api.context import own_origin
from shedbook.api.endpoint import Call, endpoint
from shedbook.api.schemas import InvitationSchema, InviteSchema
from shedbook.records.people import PHONE_CODE_LIFETIME_S, invite, pairing_link

blueprint = Blueprint("invitations", __name__, url_prefix="/api/gardens/<garden>/invitations")


@blueprint.post("")
@endpoint(
    "Make a one-time code that pairs one device of a person.",
    allow=["lead"],
    body=InviteSchema,
    answer=InvitationSchema,
    status=201,
)
def create(call: Call) -> dict[str, Any]:
    invited = invite(
        call.paired.garden_id,
        call.body["role"],
        call.body["name"].strip(),
        PHONE_CODE_LIFETIME_S,
        at_ms=call.now_ms,
    )
    link = pairing_link(own_origin(), invited.code)
    return {
        "code": invited.code,
        "link": link,
        "qr_svg": qr_svg(link),
        "expires_at_ms": invited.expires_at_ms,
    }


def qr_svg(text: str) -> str:
    """The text as a picture that a phone's camera reads; it takes the colour of its page."""
    out = io.BytesIO()
    segno.make(text, error="m", micro=False).save(
        out, kind="svg", xmldecl=False, border=4, dark="#000", light="#fff", omitsize=True
    )
    return out.getvalue().decode("utf-8").strip()
