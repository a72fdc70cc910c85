"""A page of somebody else's, in the browser of a paired device, can't make it write."""

from typing import Any

import pytest
from flask import Flask

from shedbook.api.openapi import declared_routes
from tests.api.builders import HEADERS, ORIGIN, Phone, an_id, error_of

FOREIGN = "https://elsewhere.example"
FORM = "application/x-www-form-urlencoded"
# What a browser sends for a foreign page: with a form, or with fetch and no leave of the shed's.
ATTEMPTS: dict[str, dict[str, Any]] = {
    "form": {"data": "text=a", "content_type": FORM},
    "form with a file": {"data": {"text": "a"}, "content_type": "multipart/form-data"},
    "plain text that is JSON": {"data": "{}", "content_type": "text/plain"},
    "JSON without the header": {"data": "{}", "content_type": "application/json"},
}
ORIGINS = [FOREIGN, "null", "http://localhost:8080", "https://localhost", f"{ORIGIN}.example"]


def _writes(app: Flask) -> list[tuple[str, str]]:
    return [(method, rule.rule) for rule, method, _ in declared_routes(app) if method != "GET"]


def _address(rule: str, phone: Phone) -> str:
    known = rule.replace("<garden>", phone.garden).replace("<device>", phone.device)
    return known.replace("<digest>", "0" * 64).replace("<entry>", an_id())


@pytest.mark.parametrize("attempt", ATTEMPTS)
def test_no_route_writes_for_a_page_that_cannot_send_the_header(
    app: Flask, lead: Phone, attempt: str
) -> None:
    for origin in (FOREIGN, "null", None):
        for method, rule in _writes(app):
            headers = {"Origin": origin} if origin else {}
            given = dict(ATTEMPTS[attempt])
            answer = lead.client.open(_address(rule, lead), method=method, headers=headers, **given)
            assert answer.status_code == 403, (method, rule)
            assert error_of(answer)["code"] == "wrong_origin"
    assert lead.client.get("/api/session").status_code == 200


@pytest.mark.parametrize("origin", ORIGINS)
def test_no_route_writes_for_another_origin_even_with_the_header(
    app: Flask, lead: Phone, origin: str
) -> None:
    for method, rule in _writes(app):
        headers = {**HEADERS, "Origin": origin}
        answer = lead.client.open(_address(rule, lead), method=method, headers=headers, json={})
        assert answer.status_code == 403, (method, rule)
        assert error_of(answer)["code"] == "wrong_origin"
    assert lead.client.get("/api/session").status_code == 200


def test_the_shed_never_gives_another_origin_leave(app: Flask, lead: Phone) -> None:
    """A browser asks before it sends the header across origins, and gets no leave."""
    asking = {
        "Origin": FOREIGN,
        "Access-Control-Request-Method": "POST",
        "Access-Control-Request-Headers": "x-shedbook, content-type",
    }
    for rule in {rule for _, rule in _writes(app)}:
        answer = lead.client.options(_address(rule, lead), headers=asking)
        allowed = [name for name, _ in answer.headers if name.startswith("Access-Control")]
        assert allowed == [], rule


def test_the_shed_s_own_page_writes(lead: Phone) -> None:
    answer = lead.post("/sync", {}, headers={"Origin": ORIGIN})
    assert error_of(answer)["code"] == "bad_fields"
