"""The description of the interface, made from the views' own declarations."""

import re
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from flask import Blueprint, Flask, Response, current_app, jsonify
from marshmallow import Schema
from werkzeug.routing import Rule

from shedbook.api.access import ANYONE
from shedbook.api.endpoint import Call, Endpoint, Media, endpoint, endpoint_of
from shedbook.api.errors import ERRORS
from shedbook.api.schemas import ErrorSchema

blueprint = Blueprint("openapi", __name__, url_prefix="/api/openapi.json")

_WRITING = frozenset({"POST", "PUT", "PATCH", "DELETE"})
_PART = re.compile(r"<(?:\w+:)?(\w+)>")


@blueprint.get("")
@endpoint("This description.", allow=[ANYONE])
def show(_: Call) -> Response:
    return jsonify(describe_api(current_app))


def declared_routes(app: Flask) -> list[tuple[Rule, str, Endpoint]]:
    """Every declared view with its address and method, by address."""
    found = []
    for rule in app.url_map.iter_rules():
        declared = endpoint_of(app.view_functions[rule.endpoint])
        if declared is not None:
            methods = (rule.methods or set()) - {"HEAD", "OPTIONS"}
            found += [(rule, method, declared) for method in sorted(methods)]
    return sorted(found, key=lambda route: (route[0].rule, route[1]))


def describe_api(app: Flask) -> dict[str, Any]:
    """The OpenAPI description of every declared view."""
    spec = APISpec(
        title="Shedbook",
        version="1",
        openapi_version="3.1.0",
        plugins=[MarshmallowPlugin(schema_name_resolver=_name)],
        info={"description": "A garden's log, what is due in it, and what must not be done yet."},
    )
    spec.components.security_scheme(
        "device", {"type": "apiKey", "in": "cookie", "name": "shedbook_device"}
    )
    for rule, method, declared in declared_routes(app):
        spec.path(
            path=_PART.sub(r"{\1}", rule.rule),
            operations={method.lower(): _operation(rule, method, declared)},
        )
    described: dict[str, Any] = spec.to_dict()
    return described


def _operation(rule: Rule, method: str, declared: Endpoint) -> dict[str, Any]:
    operation: dict[str, Any] = {
        "operationId": rule.endpoint.replace(".", "_"),
        "summary": declared.summary,
        "description": f"May be called by: {', '.join(declared.allow)}.",
        "parameters": [
            {"name": name, "in": "path", "required": True, "schema": {"type": "string"}}
            for name in sorted(rule.arguments)
        ],
        "responses": _responses(rule, method, declared),
    }
    if ANYONE not in declared.allow:
        operation["security"] = [{"device": []}]
    if declared.query is not None:
        operation["parameters"].append({"in": "query", "schema": declared.query})
    if method in _WRITING:
        operation["parameters"].append(
            {
                "name": "X-Shedbook",
                "in": "header",
                "required": True,
                "schema": {"type": "string", "enum": ["1"]},
            }
        )
    if declared.body is not None:
        operation["requestBody"] = {"required": True, "content": _content(declared.body)}
    return operation


def _responses(rule: Rule, method: str, declared: Endpoint) -> dict[str, Any]:
    done: dict[str, Any] = {"description": "Done."}
    if declared.answer is not None:
        done["content"] = _content(declared.answer)
    responses = {str(status): done for status in (declared.status, declared.also) if status}
    by_status: dict[int, list[str]] = {}
    for code in _possible_errors(rule, method, declared):
        by_status.setdefault(ERRORS[code].status, []).append(code)
    for status, codes in by_status.items():
        responses[str(status)] = {
            "description": " ".join(f"{code}: {ERRORS[code].message}" for code in codes),
            "content": _content(ErrorSchema),
        }
    return responses


def _possible_errors(rule: Rule, method: str, declared: Endpoint) -> list[str]:
    codes = list(declared.errors)
    if ANYONE not in declared.allow:
        codes += ["not_paired", "revoked", "not_permitted"]
    if rule.arguments:
        codes.append("not_found")
    if declared.query is not None:
        codes.append("bad_fields")
    if isinstance(declared.body, Media):
        codes += ["too_large", "not_a_photo"]
    elif declared.body is not None:
        codes += ["broken_json", "too_large", "not_json", "bad_fields"]
    if method in _WRITING:
        codes += ["wrong_origin", "busy", "read_only", "no_room"]
    return sorted(set(codes))


def _content(form: type[Schema] | Media) -> dict[str, Any]:
    if isinstance(form, Media):
        image = {"type": "string", "format": "binary", "maxLength": form.most_bytes}
        return {name: {"schema": image} for name in form.types}
    return {"application/json": {"schema": form}}


def _name(schema: type[Schema] | Schema) -> str:
    kind = schema if isinstance(schema, type) else type(schema)
    return kind.__name__.removesuffix("Schema")
