"""Errors of every kind have one form, say what is wrong, and say what to do."""

import logging

import pytest
from flask import Flask

from shedbook.api.errors import ERRORS
from shedbook.records.refusals import StoreBusy
from shedbook.serving.app import Config, create_app
from tests.api.builders import HEADERS, Clock, Phone, a_phone, error_of


def test_broken_json_is_answered_with_its_place(lead: Phone) -> None:
    response = lead.client.post(
        f"/api/gardens/{lead.garden}/sync",
        data='{"notebook": "x",\n "entries": [}',
        headers=HEADERS,
        content_type="application/json",
    )
    assert response.status_code == 400
    error = error_of(response)
    assert error["code"] == "broken_json"
    assert "line 2, column 14" in error["message"]


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (b"", "line 1, column 1"),
        (b'{"a": "\xff"}', "Byte 7"),
        (b"[" * 100_000, "nested too deeply"),
        (b"1" * 5000, "a number that is too long"),
    ],
    ids=["empty", "not UTF-8", "deep", "long number"],
)
def test_bodies_that_are_no_json_are_answered_with_the_reason(
    lead: Phone, body: bytes, said: str
) -> None:
    response = lead.client.post(
        f"/api/gardens/{lead.garden}/sync",
        data=body,
        headers=HEADERS,
        content_type="application/json",
    )
    assert response.status_code == 400
    assert said in error_of(response)["message"]


def test_json_that_is_no_object_is_answered_with_what_is_wanted(lead: Phone) -> None:
    response = lead.post("/sync", [])
    assert response.status_code == 422
    assert error_of(response)["fields"] == {"_schema": ["Invalid input type."]}


def test_a_body_above_one_mebibyte_is_413_and_nothing_of_it_is_stored(lead: Phone) -> None:
    entries = [lead.entry(details={"text": "x" * 3000}) for _ in range(400)]
    response = lead.post("/sync", {"notebook": lead.notebook, "entries": entries})
    assert response.status_code == 413
    error = error_of(response)
    assert error["code"] == "too_large"
    assert "smaller batches" in error["hint"]
    assert lead.sync()["head"] == 0


def test_another_content_type_is_415(lead: Phone) -> None:
    url = f"/api/gardens/{lead.garden}/sync"
    response = lead.client.post(url, data="{}", headers=HEADERS, content_type="text/plain")
    assert response.status_code == 415
    assert "application/json" in error_of(response)["hint"]


def test_a_write_without_the_header_is_403(lead: Phone) -> None:
    response = lead.client.post(f"/api/gardens/{lead.garden}/sync", json={})
    assert response.status_code == 403
    error = error_of(response)
    assert error["code"] == "wrong_origin"
    assert error["message"] == "The header X-Shedbook: 1 is missing."


def test_a_write_from_a_page_of_another_origin_is_403(lead: Phone) -> None:
    for origin in ("http://elsewhere.example", "null", "https://localhost", "http://localhost:81"):
        response = lead.post("/sync", {"notebook": lead.notebook}, headers={"Origin": origin})
        assert response.status_code == 403, origin
        assert error_of(response)["hint"] == "Open Shedbook at http://localhost."
    own = lead.post("/sync", {"notebook": lead.notebook}, headers={"Origin": "http://localhost"})
    assert own.status_code == 200


def test_the_origin_is_the_canonical_one_where_it_is_set(app: Flask, garden: str) -> None:
    url = app.config["SQLALCHEMY_DATABASE_URI"]
    named = create_app(Config(url, origin="http://shed.example:8080", clock_ms=Clock()))
    phone = a_phone(named, garden)
    body = {"notebook": phone.notebook}
    good = phone.post("/sync", body, headers={"Origin": "http://shed.example:8080"})
    assert good.status_code == 200
    assert phone.post("/sync", body, headers={"Origin": "http://localhost"}).status_code == 403


def test_an_unknown_address_and_a_wrong_method_have_the_same_form(app: Flask) -> None:
    client = app.test_client()
    for url in ("/api/nothing", "/nothing", "/a/0/main.js", "/api/gardens/x"):
        response = client.get(url)
        assert response.status_code == 404, url
        assert error_of(response)["code"] == "not_found"
    response = client.put("/api/session", headers=HEADERS)
    assert response.status_code == 405
    assert error_of(response)["code"] == "not_allowed"
    assert "GET" in response.headers["Allow"]


def test_an_unforeseen_failure_is_told_without_its_inside(
    app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise RuntimeError("inside")

    monkeypatch.setattr("shedbook.api.findings.standing_of_garden", fail)
    with caplog.at_level(logging.ERROR):
        response = lead.get("/findings")
    assert response.status_code == 500
    assert error_of(response)["code"] == "failed"
    assert "inside" not in response.get_data(as_text=True)
    assert "inside" in caplog.text


def test_a_busy_store_is_503_and_may_be_tried_again(
    lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    def busy(*_: object, **__: object) -> None:
        raise StoreBusy("held")

    monkeypatch.setattr("shedbook.api.sync.exchange", busy)
    response = lead.post("/sync", {"notebook": lead.notebook})
    assert response.status_code == 503
    assert "Try again" in error_of(response)["hint"]
    assert response.headers["Retry-After"] == "2"


def test_every_error_says_what_to_do() -> None:
    for code, kind in ERRORS.items():
        assert 400 <= kind.status < 600, code
        assert kind.message.endswith(".")
        assert kind.hint.endswith(".")
