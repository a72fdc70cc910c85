"""Every route has a stated rule for every role, for strangers, and for another garden."""

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from shedbook.api.access import ANYONE, EVERY_ROLE
from shedbook.api.endpoint import endpoint
from shedbook.api.openapi import declared_routes
from tests.api.builders import HEADERS, Phone, a_garden, a_phone, an_id, error_of

# Said here again, apart from the code: a route that is added or opened wider must be read twice.
ALLOWED = {
    "GET /api/example": EVERY_ROLE,
    "GET /api/gardens/<garden>/calendars": EVERY_ROLE,
    "POST /api/gardens/<garden>/calendars": EVERY_ROLE,
    "DELETE /api/gardens/<garden>/calendars/<calendar>": EVERY_ROLE,
    "GET /api/gardens/<garden>/devices": EVERY_ROLE,
    "DELETE /api/gardens/<garden>/devices/<device>": ("lead",),
    "GET /api/gardens/<garden>/entries": EVERY_ROLE,
    "GET /api/gardens/<garden>/findings": EVERY_ROLE,
    "POST /api/gardens/<garden>/invitations": ("lead",),
    "GET /api/gardens/<garden>/photos/<sha256>": EVERY_ROLE,
    "PUT /api/gardens/<garden>/photos/<sha256>": ("lead", "helper"),
    "POST /api/gardens/<garden>/photos/missing": EVERY_ROLE,
    "GET /api/gardens/<garden>/proposal": EVERY_ROLE,
    "GET /api/gardens/<garden>/review": EVERY_ROLE,
    "GET /api/gardens/<garden>/scouting": EVERY_ROLE,
    "GET /api/gardens/<garden>/set-aside": EVERY_ROLE,
    "POST /api/gardens/<garden>/sync": EVERY_ROLE,
    "GET /api/openapi.json": (ANYONE,),
    "GET /api/session": EVERY_ROLE,
    "POST /api/session": (ANYONE,),
    "DELETE /api/session": EVERY_ROLE,
    "GET /calendar/<token>.ics": (ANYONE,),
    "GET /healthz": (ANYONE,),
    "GET /readyz": (ANYONE,),
}
# What serves the client's own files, which hold nothing of any garden.
FILES = {"/", "/service-worker.js", "/manifest.webmanifest", "/a/<digest>/<path:name>"}


def _address(rule: str, **parts: str) -> str:
    """The address of a route; a part that no test knows yet must not go by unfilled."""
    for name, value in parts.items():
        rule = rule.replace(f"<{name}>", value)
    assert "<" not in rule, "say here what stands in this part of the address"
    return rule


def _made_up(garden: str) -> dict[str, str]:
    """A value for each part of an address; nothing is there by it."""
    ids = {name: an_id() for name in ("device", "calendar", "token")}
    return {"garden": garden, "sha256": "5e" * 32, **ids}


def _call(phone: Phone, route: str, garden: str, **parts: str) -> TestResponse:
    method, rule = route.split(" ")
    url = _address(rule, **(_made_up(garden) | parts))
    body = {"json": {}} if method == "POST" else {}
    return phone.client.open(url, method=method, headers=HEADERS, **body)


def _stranger(app: Flask) -> Phone:
    return Phone(app.test_client(), "", "", "")


def _stated(app: Flask) -> dict[str, tuple[str, ...]]:
    return {f"{method} {rule.rule}": one.allow for rule, method, one in declared_routes(app)}


def _undeclared(app: Flask) -> set[str]:
    declared = {rule.rule for rule, _, _ in declared_routes(app)}
    return {rule.rule for rule in app.url_map.iter_rules()} - declared


def test_every_route_has_a_stated_rule(app: Flask) -> None:
    assert _stated(app) == ALLOWED
    assert _undeclared(app) == FILES


def test_a_route_that_is_added_without_a_rule_is_noticed(app: Flask) -> None:
    app.add_url_rule("/api/gardens/<garden>/new", view_func=lambda garden: garden)
    assert _undeclared(app) - FILES == {"/api/gardens/<garden>/new"}
    opened = endpoint("Opened wider.", allow=EVERY_ROLE)(lambda _call: {})
    app.add_url_rule("/api/gardens/<garden>/invitations", "wider", opened, methods=["GET"])
    assert set(_stated(app).items()) - set(ALLOWED.items()) == {
        ("GET /api/gardens/<garden>/invitations", EVERY_ROLE)
    }


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
    url = _address(rule, **_made_up(garden) | {"device": phone.device})
    response = phone.client.open(url, method=method, json={})
    assert response.status_code == 403
    assert error_of(response)["code"] == "wrong_origin"
    assert phone.client.get("/api/session").status_code == 200


@pytest.mark.parametrize("route", [one for one in ALLOWED if one.startswith("GET")])
def test_head_is_let_in_as_get_is_and_tells_no_body(app: Flask, garden: str, route: str) -> None:
    own, foreign = a_phone(app, garden, "reader"), a_phone(app, a_garden(app, "Away"), "lead")
    for phone in (own, foreign, _stranger(app)):
        asked = _call(phone, route, garden)
        headed = _call(phone, route.replace("GET", "HEAD"), garden)
        assert headed.status_code == asked.status_code
        assert headed.get_data() == b""


@pytest.mark.parametrize("route", ALLOWED)
def test_options_tells_the_methods_and_nothing_of_a_garden(
    app: Flask, garden: str, route: str
) -> None:
    """No other origin is let in by it, and a garden that is there looks like one that is not."""
    asked = f"OPTIONS {route.split(' ')[1]}"
    lead, stranger = a_phone(app, garden, "lead"), _stranger(app)
    answers = [_call(lead, asked, garden), _call(stranger, asked, garden)]
    answers += [_call(lead, asked, an_id()), _call(stranger, asked, an_id())]
    for answer in answers:
        assert answer.status_code == 200
        assert answer.get_data() == b""
        assert route.partition(" ")[0] in answer.headers["Allow"]
        assert not [name for name, _ in answer.headers if name.startswith("Access-Control")]
        assert "Set-Cookie" not in answer.headers
        assert sorted(answer.headers) == sorted(answers[0].headers)


@pytest.mark.parametrize("rule", sorted({route.split(" ")[1] for route in ALLOWED}))
def test_a_method_that_no_rule_names_is_refused(app: Flask, garden: str, rule: str) -> None:
    lead = a_phone(app, garden, "lead")
    named = {route.split(" ")[0] for route in ALLOWED if route.endswith(f" {rule}")}
    for method in {"GET", "POST", "PUT", "PATCH", "DELETE", "TRACE", "PROPFIND"} - named:
        url = _address(rule, **_made_up(garden))
        response = lead.client.open(url, method=method, headers=HEADERS)
        # Another route may have the same form of address: its own rule holds there.
        assert response.status_code in (404, 405, 415), method


@pytest.mark.parametrize("route", [one for one, allow in ALLOWED.items() if ANYONE not in allow])
def test_a_revoked_device_is_told_so_and_no_more(app: Flask, garden: str, route: str) -> None:
    lead, gone = a_phone(app, garden, "lead"), a_phone(app, garden, "lead", "Gone")
    lead.client.delete(f"/api/gardens/{garden}/devices/{gone.device}", headers=HEADERS)
    response = _call(gone, route, garden)
    assert response.status_code == 401
    assert error_of(response)["code"] == "revoked"
