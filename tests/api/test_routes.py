"""Every route has a stated rule for every role, for strangers, and for another garden."""

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from shedbook.api.access import ANYONE, EVERY_ROLE
from shedbook.api.openapi import declared_routes
from tests.api.builders import HEADERS, Phone, a_garden, a_phone, an_id, error_of

# Said here again, apart from the code: a route that is added or opened wider must be read twice.
ALLOWED = {
    "GET /api/gardens/<garden>/devices": EVERY_ROLE,
    "DELETE /api/gardens/<garden>/devices/<device>": ("lead",),
    "GET /api/gardens/<garden>/entries": EVERY_ROLE,
    "GET /api/gardens/<garden>/findings": EVERY_ROLE,
    "POST /api/gardens/<garden>/invitations": ("lead",),
    "GET /api/gardens/<garden>/proposal": EVERY_ROLE,
    "GET /api/gardens/<garden>/review": EVERY_ROLE,
    "GET /api/gardens/<garden>/scouting": EVERY_ROLE,
    "GET /api/gardens/<garden>/set-aside": EVERY_ROLE,
    "POST /api/gardens/<garden>/sync": EVERY_ROLE,
    "GET /api/openapi.json": (ANYONE,),
    "GET /api/session": EVERY_ROLE,
    "POST /api/session": (ANYONE,),
    "DELETE /api/session": EVERY_ROLE,
    "GET /healthz": (ANYONE,),
}
# What serves the client's own files, which hold nothing of any garden.
FILES = {"/", "/service-worker.js", "/manifest.webmanifest", "/a/<digest>/<path:name>"}


def _call(phone: Phone, route: str, garden: str) -> TestResponse:
    method, rule = route.split(" ")
    url = rule.replace("<garden>", garden).replace("<device>", an_id())
    body = {"json": {}} if method == "POST" else {}
    return phone.client.open(url, method=method, headers=HEADERS, **body)


def _stranger(app: Flask) -> Phone:
    return Phone(app.test_client(), "", "", "")


def test_every_route_has_a_stated_rule(app: Flask) -> None:
    stated = {f"{method} {rule.rule}": one.allow for rule, method, one in declared_routes(app)}
    assert {route: tuple(allow) for route, allow in stated.items()} == ALLOWED
    declared = {rule.rule for rule, _, _ in declared_routes(app)}
    assert {rule.rule for rule in app.url_map.iter_rules()} - declared == FILES


@pytest.mark.parametrize("role", EVERY_ROLE)
@pytest.mark.parametrize("route", ALLOWED)
def test_a_role_is_let_in_exactly_where_it_is_allowed(
    app: Flask, garden: str, route: str, role: str
) -> None:
    response = _call(a_phone(app, garden, role), route, garden)
    if role in ALLOWED[route] or ANYONE in ALLOWED[route]:
        assert response.status_code not in (401, 403, 500)
    else:
        assert response.status_code == 403
        assert error_of(response)["code"] == "not_permitted"


@pytest.mark.parametrize("route", [one for one in ALLOWED if "<garden>" in one])
def test_a_device_of_another_garden_finds_nothing(app: Flask, garden: str, route: str) -> None:
    foreign = a_phone(app, a_garden(app, "Away"), "lead")
    response = _call(foreign, route, garden)
    assert response.status_code == 404
    made_up = _call(foreign, route, an_id())
    assert made_up.get_data() == response.get_data()


@pytest.mark.parametrize("route", [one for one, allow in ALLOWED.items() if ANYONE not in allow])
def test_a_stranger_is_asked_to_pair(app: Flask, garden: str, route: str) -> None:
    response = _call(_stranger(app), route, garden)
    assert response.status_code == 401
    assert error_of(response)["code"] == "not_paired"


@pytest.mark.parametrize("route", [one for one in ALLOWED if not one.startswith("GET")])
def test_a_write_without_the_header_is_refused_before_all_else(
    app: Flask, garden: str, route: str
) -> None:
    phone = a_phone(app, garden)
    method, rule = route.split(" ")
    url = rule.replace("<garden>", garden).replace("<device>", phone.device)
    response = phone.client.open(url, method=method, json={})
    assert response.status_code == 403
    assert error_of(response)["code"] == "wrong_origin"
    assert phone.client.get("/api/session").status_code == 200
