"""Every answer of every kind carries the strict headers, also the ones that tell of an error."""

from collections.abc import Callable

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from shedbook.serving.app import BODY_LIMIT_BYTES, Config, create_app
from shedbook.serving.headers import CONTENT_SECURITY_POLICY, HEADERS
from tests.api.builders import HEADERS as OWN
from tests.api.builders import Phone, a_phone

Ask = Callable[[Phone, str], TestResponse]


def _post(phone: Phone, path: str, **given: object) -> TestResponse:
    return phone.client.post(path, headers=OWN, **given)  # type: ignore[arg-type]


def _huge(phone: Phone, _: str) -> TestResponse:
    body = b" " * (BODY_LIMIT_BYTES + 1)
    return _post(phone, "/api/session", data=body, content_type="application/json")


# By the status that each must have, so that the test really sees that kind of answer.
ANSWERS: dict[str, tuple[int, Ask]] = {
    "page": (200, lambda phone, _: phone.client.get("/")),
    "worker": (200, lambda phone, _: phone.client.get("/service-worker.js")),
    "manifest": (200, lambda phone, _: phone.client.get("/manifest.webmanifest")),
    "file": (200, lambda phone, digest: phone.client.get(f"/a/{digest}/main.js")),
    "head": (200, lambda phone, _: phone.client.head("/")),
    "options": (200, lambda phone, _: phone.client.options("/api/session")),
    "no such file": (404, lambda phone, digest: phone.client.get(f"/a/{digest}/none.js")),
    "no such page": (404, lambda phone, _: phone.client.get("/wp-admin")),
    "no such path of the interface": (404, lambda phone, _: phone.client.get("/api/none")),
    "health": (200, lambda phone, _: phone.client.get("/healthz")),
    "readiness": (200, lambda phone, _: phone.client.get("/readyz")),
    "description": (200, lambda phone, _: phone.client.get("/api/openapi.json")),
    "findings": (200, lambda phone, _: phone.get("/findings")),
    "nothing to say": (204, lambda phone, _: phone.client.delete("/api/session", headers=OWN)),
    "cross-site": (403, lambda phone, _: phone.client.post("/api/session", json={})),
    "wrong method": (405, lambda phone, _: phone.client.put("/api/session", headers=OWN)),
    "too large": (413, _huge),
    "not JSON": (415, lambda phone, _: _post(phone, "/api/session", data="a")),
    "bad fields": (422, lambda phone, _: _post(phone, "/api/session", json={})),
    "broken": (500, lambda phone, _: phone.client.get("/broken")),
}


def _broken() -> None:
    raise RuntimeError("on purpose")


@pytest.mark.parametrize("kind", ANSWERS)
def test_every_kind_of_answer_carries_the_strict_headers(
    app: Flask, garden: str, kind: str
) -> None:
    app.add_url_rule("/broken", "broken", _broken)
    phone = a_phone(app, garden)
    status, ask = ANSWERS[kind]
    answer = ask(phone, app.extensions["shedbook"].assets_digest)
    assert answer.status_code == status
    assert HEADERS.items() <= dict(answer.headers).items()
    assert "Access-Control-Allow-Origin" not in answer.headers
    assert "Server" not in answer.headers


def test_the_policy_lets_nothing_in_that_the_shed_does_not_serve_itself() -> None:
    policy = dict(part.split(" ", 1) for part in CONTENT_SECURITY_POLICY.split("; "))
    assert policy.pop("default-src") == "'none'"
    assert policy.pop("require-trusted-types-for") == "'script'"
    assert policy.pop("trusted-types") == "lit-html shedbook-worker"
    # Pictures alone may come from the page itself: photos that are shown before they are sent.
    assert policy.pop("img-src") == "'self' data: blob:"
    assert set(policy.values()) == {"'self'", "'none'"}


@pytest.mark.parametrize("method", ["get", "post", "delete"])
def test_cookies_are_strict_and_out_of_reach_of_scripts(
    app: Flask, garden: str, method: str
) -> None:
    at_https = create_app(
        Config(app.config["SQLALCHEMY_DATABASE_URI"], origin="https://shed.example")
    )
    phone = a_phone(app, garden)
    secret = phone.client.get_cookie("shedbook_device")
    assert secret is not None
    client = at_https.test_client()
    client.set_cookie("__Host-shedbook_device", secret.value, domain="shed.example", secure=True)
    given = {"json": {"code": "ABCDEFGH", "device_name": "A"}} if method == "post" else {}
    answer = client.open("/api/session", method=method, base_url="https://shed.example",
                         headers=OWN, **given)  # type: ignore[arg-type]  # fmt: skip
    cookies = answer.headers.getlist("Set-Cookie")
    # A code that nobody has gives no cookie; the other two renew it and take it back.
    assert len(cookies) == (0 if method == "post" else 1)
    for cookie in cookies:
        assert cookie.startswith("__Host-shedbook_device=")
        for part in ("Secure", "HttpOnly", "SameSite=Strict", "Path=/"):
            assert part in cookie.split("; ")
        assert "Domain" not in cookie
