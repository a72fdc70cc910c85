"""/api/openapi.json: made from the views' declarations, valid and complete."""

import re
from typing import Any

from flask import Flask
from openapi_spec_validator import validate

from shedbook.api.endpoint import endpoint_of


def _description(app: Flask) -> dict[str, Any]:
    response = app.test_client().get("/api/openapi.json")
    assert response.status_code == 200
    described: dict[str, Any] = response.get_json()
    return described


def test_the_description_is_valid_openapi(app: Flask) -> None:
    validate(_description(app))


def test_every_route_under_api_is_declared_and_described(app: Flask) -> None:
    paths = _description(app)["paths"]
    for rule in app.url_map.iter_rules():
        if not rule.rule.startswith("/api"):
            continue
        assert endpoint_of(app.view_functions[rule.endpoint]) is not None, rule
        described = paths[re.sub(r"<(\w+)>", r"{\1}", rule.rule)]
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}:
            assert method.lower() in described, rule


def test_the_bodies_of_the_exchange_are_described(app: Flask) -> None:
    description = _description(app)
    sync = description["paths"]["/api/gardens/{garden}/sync"]["post"]
    body = sync["requestBody"]["content"]["application/json"]["schema"]
    assert body == {"$ref": "#/components/schemas/SyncRequest"}
    answer = sync["responses"]["200"]["content"]["application/json"]["schema"]
    assert answer == {"$ref": "#/components/schemas/SyncResponse"}
    schemas = description["components"]["schemas"]
    assert set(schemas["SyncRequest"]["properties"]) == {
        "notebook",
        "entries",
        "cursor",
        "epoch",
        "waiting",
        "page",
        "given_up",
        "form",
    }
    assert schemas["SyncResponse"]["properties"]["entries"]["items"] == {
        "$ref": "#/components/schemas/StoredEntry"
    }
    assert {"seq", "order", "clock", "details"} <= set(schemas["StoredEntry"]["properties"])
    assert "413" in sync["responses"]
