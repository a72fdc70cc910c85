"""Gardens, phones and entries for tests that go through the HTTP interface."""

import secrets
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from shedbook.log.clock import clock_text
from shedbook.log.identity import new_id
from shedbook.records.gardens import create_garden
from shedbook.records.people import invite

# 2026-06-01T10:00:00+02:00
NOW_MS = 1_780_300_800_000
HEADERS = {"X-Shedbook": "1"}
ORIGIN = "http://localhost"


def an_id(at_ms: int = NOW_MS) -> str:
    """A new id, as a phone makes it."""
    return new_id(at_ms, secrets.token_bytes(10))


@dataclass
class Clock:
    """A shed's clock that tests move by hand."""

    ms: int = NOW_MS

    def __call__(self) -> int:
        return self.ms


@dataclass
class Phone:
    """A paired device with one notebook, which numbers its entries as the real one does."""

    client: FlaskClient
    garden: str
    device: str
    person: str
    notebook: str = field(default_factory=lambda: str(uuid.uuid4()))
    number: int = 0

    def entry(
        self,
        kind: str = "note",
        details: Mapping[str, Any] | None = None,
        subjects: Mapping[str, Any] | None = None,
        **changed: Any,
    ) -> dict[str, Any]:
        """The next entry; `changed` replaces parts of its envelope."""
        self.number += 1
        made = {
            "id": an_id(NOW_MS + self.number),
            "garden": self.garden,
            "notebook": self.notebook,
            "number": self.number,
            "kind": kind,
            "version": 1,
            "subjects": dict(subjects or {}),
            "happened_at": "2026-06-01T07:40:00+02:00",
            "recorded_at": "2026-06-01T07:40:05+02:00",
            "clock": clock_text(NOW_MS, self.number),
            "device": self.device,
            "person": self.person,
            "details": dict({"text": "Dew until nine."} if details is None else details),
        }
        return made | changed

    def bed(self, **details: Any) -> dict[str, Any]:
        """The entry that makes a bed; its id is the bed's."""
        made = self.entry("bed", {"name": "North", "type": "ground", **details})
        return made | {"subjects": {"bed": made["id"]}}

    def planting(self, bed: str | None, **details: Any) -> dict[str, Any]:
        """The entry that makes a planting; its id is the planting's."""
        made = self.entry("planting", {"crop": "pepper", "count": 6, **details})
        placed = {"planting": made["id"]} | ({"bed": bed} if bed else {})
        return made | {"subjects": placed}

    def post(self, path: str, body: Any, **given: Any) -> TestResponse:
        """POST to a path of this phone's garden."""
        headers = {**HEADERS, **given.pop("headers", {})}
        url = f"/api/gardens/{self.garden}{path}"
        return self.client.post(url, json=body, headers=headers, **given)

    def get(self, path: str, **given: Any) -> TestResponse:
        """GET a path of this phone's garden."""
        return self.client.get(f"/api/gardens/{self.garden}{path}", **given)

    def sync(self, entries: Sequence[Any] = (), **changed: Any) -> dict[str, Any]:
        """One exchange that must succeed."""
        body = {"notebook": self.notebook, "entries": list(entries), "cursor": 0, "waiting": 0}
        response = self.post("/sync", body | changed)
        assert response.status_code == 200, response.get_data(as_text=True)
        answer: dict[str, Any] = response.get_json()
        return answer

    def push_one(self, entry: Any) -> dict[str, Any]:
        """The answer to one entry."""
        answer: dict[str, Any] = self.sync([entry])["answers"][0]
        return answer


def a_garden(app: Flask, name: str = "Home") -> str:
    """A new garden's id."""
    with app.app_context():
        return create_garden(name, "Europe/Madrid", at_ms=NOW_MS).id


def a_phone(app: Flask, garden: str, role: str = "lead", name: str | None = None) -> Phone:
    """A phone of a person in this role, paired over HTTP."""
    with app.app_context():
        at_ms = app.extensions["shedbook"].clock_ms()
        code = invite(garden, role, name or role.title(), 600, at_ms=at_ms).code
    client = app.test_client()
    response = client.post(
        "/api/session", json={"code": code, "device_name": f"{role} phone"}, headers=HEADERS
    )
    assert response.status_code == 201, response.get_data(as_text=True)
    session = response.get_json()
    return Phone(client, garden, session["device"]["id"], session["person"]["id"])


def error_of(response: TestResponse) -> dict[str, Any]:
    """The error that a response carries; fails when it has none of the one form."""
    error: dict[str, Any] = response.get_json()["error"]
    assert set(error) == {"code", "message", "fields", "hint"}
    assert error["message"]
    assert error["hint"]
    return error
