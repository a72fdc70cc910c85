"""/api/session: pairing by a one-time code, who am I, leaving."""

from flask import Flask

from shedbook.records.people import invite, revoke_device
from shedbook.serving.app import Config, create_app
from tests.api.builders import HEADERS, NOW_MS, Clock, Phone, a_phone, error_of


def _code(app: Flask, garden: str, lifetime_s: int = 600, name: str = "Ana") -> str:
    with app.app_context():
        return invite(garden, "helper", name, lifetime_s, at_ms=NOW_MS).code


def _spend(app: Flask, code: str, **given: object):  # type: ignore[no-untyped-def]
    body = {"code": code, "device_name": "Ana's phone"}
    return app.test_client().post("/api/session", json=body, headers=HEADERS, **given)


def test_pairing_with_an_open_code_gives_a_session_and_a_strict_cookie(
    app: Flask, garden: str
) -> None:
    response = _spend(app, _code(app, garden))
    assert response.status_code == 201
    session = response.get_json()
    assert session["garden"] == {"id": garden, "name": "Home", "zone": "Europe/Madrid"}
    assert session["device"]["name"] == "Ana's phone"
    assert session["person"]["name"] == "Ana"
    assert session["role"] == "helper"
    cookie = response.headers["Set-Cookie"]
    assert cookie.startswith("shedbook_device=")
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert "Path=/" in cookie
    assert "Secure" not in cookie


def test_pairing_at_an_https_origin_gives_a_host_bound_secure_cookie(
    app: Flask, garden: str
) -> None:
    url = app.config["SQLALCHEMY_DATABASE_URI"]
    at_https = create_app(Config(url, origin="https://shed.example", clock_ms=Clock()))
    response = _spend(at_https, _code(app, garden))
    cookie = response.headers["Set-Cookie"]
    assert cookie.startswith("__Host-shedbook_device=")
    assert "Secure" in cookie


def test_a_code_is_spent_once(app: Flask, garden: str) -> None:
    code = _code(app, garden)
    assert _spend(app, code).status_code == 201
    again = _spend(app, code)
    assert again.status_code == 422
    error = error_of(again)
    assert error["fields"] == {"code": ["No open invitation has this code."]}
    assert "Ask the lead" in error["hint"]


def test_a_code_expires(app: Flask, garden: str, clock: Clock) -> None:
    code = _code(app, garden)
    clock.ms += 600_000
    assert _spend(app, code).status_code == 422


def test_a_phone_code_may_be_typed_in_small_letters_and_groups(app: Flask, garden: str) -> None:
    code = _code(app, garden)
    assert len(code) == 8
    assert _spend(app, f"{code[:4].lower()} {code[4:].lower()}").status_code == 201


def test_a_code_that_lives_longer_than_a_phone_code_is_long(app: Flask, garden: str) -> None:
    code = _code(app, garden, lifetime_s=86_400)
    assert len(code) >= 43
    assert _spend(app, code).status_code == 201


def test_guessing_codes_is_held_back_until_a_minute_has_passed(
    app: Flask, garden: str, clock: Clock
) -> None:
    for _ in range(10):
        assert _spend(app, "ABCDEFGH").status_code == 422
    held = _spend(app, _code(app, garden))
    assert held.status_code == 429
    assert "Wait a minute" in error_of(held)["hint"]
    assert held.headers["Retry-After"] == "60"
    clock.ms += 60_001
    assert _spend(app, _code(app, garden)).status_code == 201


def test_guessing_from_many_addresses_is_held_back_in_all(app: Flask, garden: str) -> None:
    for place in range(100):
        address = {"REMOTE_ADDR": f"192.0.2.{place}"}
        assert _spend(app, "ABCDEFGH", environ_overrides=address).status_code == 422
    fresh = {"REMOTE_ADDR": "198.51.100.1"}
    assert _spend(app, "ABCDEFGH", environ_overrides=fresh).status_code == 429


def test_a_device_name_must_be_one_line_of_text(app: Flask, garden: str) -> None:
    code = _code(app, garden)
    for name in ("", "   ", "a\nb", "x" * 81, 7, None):
        response = app.test_client().post(
            "/api/session", json={"code": code, "device_name": name}, headers=HEADERS
        )
        assert response.status_code == 422, name
        assert "device_name" in error_of(response)["fields"]


def test_the_session_names_the_device_and_renews_the_cookie(lead: Phone, garden: str) -> None:
    response = lead.client.get("/api/session")
    assert response.status_code == 200
    assert response.get_json()["device"]["id"] == lead.device
    assert "Max-Age=34560000" in response.headers["Set-Cookie"]


def test_the_session_of_an_unpaired_device_is_401_with_what_to_do(app: Flask) -> None:
    response = app.test_client().get("/api/session")
    assert response.status_code == 401
    error = error_of(response)
    assert error["code"] == "not_paired"
    assert "one-time link" in error["hint"]


def test_a_made_up_secret_is_401(app: Flask) -> None:
    client = app.test_client()
    client.set_cookie("shedbook_device", "x" * 43)
    assert error_of(client.get("/api/session"))["code"] == "not_paired"


def test_a_revoked_device_is_told_so(app: Flask, garden: str, helper: Phone) -> None:
    with app.app_context():
        assert revoke_device(garden, helper.device)
    response = helper.client.get("/api/session")
    assert response.status_code == 401
    error = error_of(response)
    assert error["code"] == "revoked"
    assert "new code" in error["hint"]


def test_leaving_makes_the_secret_worthless(app: Flask, helper: Phone) -> None:
    cookie = helper.client.get_cookie("shedbook_device")
    assert cookie is not None
    assert helper.client.delete("/api/session", headers=HEADERS).status_code == 204
    assert helper.client.get_cookie("shedbook_device") is None
    client = app.test_client()
    client.set_cookie("shedbook_device", cookie.value)
    assert error_of(client.get("/api/session"))["code"] == "revoked"


def test_a_second_device_of_a_name_is_the_same_person(app: Flask, garden: str) -> None:
    one = a_phone(app, garden, "helper", "Ana")
    other = a_phone(app, garden, "helper", "Ana")
    assert one.person == other.person
    assert one.device != other.device


def test_no_secret_and_no_code_is_stored(app: Flask, garden: str, helper: Phone) -> None:
    code = _code(app, garden)
    cookie = helper.client.get_cookie("shedbook_device")
    assert cookie is not None
    path = app.config["SQLALCHEMY_DATABASE_URI"].removeprefix("sqlite:///")
    stored = b""
    for suffix in ("", "-wal"):
        with open(path + suffix, "rb") as file:  # noqa: PTH123
            stored += file.read()
    assert cookie.value.encode() not in stored
    assert code.encode() not in stored
