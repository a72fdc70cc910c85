"""/api/gardens/<garden>/devices: who is paired, and shutting a device out."""

from flask import Flask

from tests.api.builders import HEADERS, NOW_MS, Phone, a_garden, a_phone, an_id, error_of


def test_devices_list_what_is_known_of_each(lead: Phone, helper: Phone) -> None:
    first, _, third = (helper.entry() for _ in range(3))
    helper.sync([first, third], waiting=4)
    devices = {one["id"]: one for one in lead.get("/devices").get_json()["devices"]}
    assert devices[helper.device] == {
        "id": helper.device,
        "name": "helper phone",
        "person": "Helper",
        "role": "helper",
        "heard_at_ms": NOW_MS,
        "waiting": 4,
        "missing": 1,
        "revoked_at_ms": None,
    }
    assert devices[lead.device]["heard_at_ms"] is None


def test_revoking_a_device_shuts_it_out_at_once(lead: Phone, helper: Phone) -> None:
    url = f"/api/gardens/{lead.garden}/devices/{helper.device}"
    assert lead.client.delete(url, headers=HEADERS).status_code == 204
    response = helper.get("/findings")
    assert response.status_code == 401
    assert error_of(response)["code"] == "revoked"
    listed = {one["id"]: one for one in lead.get("/devices").get_json()["devices"]}
    assert listed[helper.device]["revoked_at_ms"] == NOW_MS
    assert helper.device not in {one["id"] for one in lead.sync()["devices"]}


def test_only_the_lead_revokes(lead: Phone, helper: Phone) -> None:
    url = f"/api/gardens/{lead.garden}/devices/{lead.device}"
    assert helper.client.delete(url, headers=HEADERS).status_code == 403
    assert lead.client.get("/api/session").status_code == 200


def test_a_device_of_another_garden_is_not_found(app: Flask, lead: Phone) -> None:
    stranger = a_phone(app, a_garden(app, "Away"))
    for device in (stranger.device, an_id(), "nothing"):
        url = f"/api/gardens/{lead.garden}/devices/{device}"
        assert lead.client.delete(url, headers=HEADERS).status_code == 404
    assert stranger.client.get("/api/session").status_code == 200
