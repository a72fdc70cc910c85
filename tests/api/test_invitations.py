"""/api/gardens/<garden>/invitations: the lead lets a device in."""

from xml.etree import ElementTree

from flask import Flask

from tests.api.builders import HEADERS, NOW_MS, ORIGIN, Phone, error_of


def test_an_invitation_carries_code_link_picture_and_its_end(app: Flask, lead: Phone) -> None:
    response = lead.post("/invitations", {"name": "Ben", "role": "helper"})
    assert response.status_code == 201
    made = response.get_json()
    assert made["link"] == f"{ORIGIN}/#/join/{made['code']}"
    assert made["expires_at_ms"] == NOW_MS + 600_000
    assert ElementTree.fromstring(made["qr_svg"]).tag == "{http://www.w3.org/2000/svg}svg"
    paired = app.test_client().post(
        "/api/session", json={"code": made["code"], "device_name": "Ben's"}, headers=HEADERS
    )
    assert paired.get_json()["person"]["name"] == "Ben"
    assert paired.get_json()["role"] == "helper"


def test_a_name_that_is_taken_in_another_role_is_refused_with_its_field(lead: Phone) -> None:
    lead.post("/invitations", {"name": "Ben", "role": "helper"})
    response = lead.post("/invitations", {"name": "Ben", "role": "lead"})
    assert response.status_code == 422
    assert error_of(response)["fields"] == {"name": ["Ben is in this garden as helper."]}


def test_an_unknown_role_and_an_unknown_field_are_named(lead: Phone) -> None:
    response = lead.post("/invitations", {"name": "Ben", "role": "owner", "days": 3})
    assert response.status_code == 422
    fields = error_of(response)["fields"]
    assert fields["role"] == ["Must be one of: lead, helper, reader."]
    assert fields["days"] == ["Unknown field."]


def test_a_helper_and_a_reader_may_not_invite(helper: Phone, reader: Phone) -> None:
    for phone in (helper, reader):
        response = phone.post("/invitations", {"name": "Ben", "role": "helper"})
        assert response.status_code == 403
        assert error_of(response)["code"] == "not_permitted"
