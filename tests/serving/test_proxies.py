"""The shed behind Caddy and nginx, configured by the files that docs/examples holds."""

from __future__ import annotations

import gzip
import http.client
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from http import HTTPStatus
from typing import Any

import pytest

from shedbook.serving.app import BODY_LIMIT_BYTES
from shedbook.serving.authority import prepare_certificates
from tests.api.builders import Phone
from tests.cli.test_serve import a_free_port, running
from tests.serving.proxies import NAME, Answer, Ports, Proxy, running_proxy

PHOTO_BYTES = 500_000
PROGRAMS = [
    pytest.param("caddy", marks=pytest.mark.caddy),
    pytest.param("nginx", marks=pytest.mark.nginx),
]


@dataclass
class Site:
    """A shed with its proxy, and the lead's phone, which came in through it."""

    proxy: Proxy
    joined: Answer

    def write(self, path: str, body: Any, **given: Any) -> Answer:
        """A request as the shed's own page makes it."""
        headers = given.pop("headers", {})
        own = {"X-Shedbook": "1", "Content-Type": "application/json", "Origin": self.proxy.origin}
        return self.proxy.ask("POST", path, body=body, headers=own | headers, **given)

    def guess(self, source: str, **headers: str) -> int:
        """Try a code that nobody has; the status says whether that is held back."""
        body = {"code": "ABCDEFGH", "device_name": "Guess"}
        return self.write("/api/session", body, source=source, headers=headers).status

    @property
    def cookie(self) -> dict[str, str]:
        return {"Cookie": self.joined.headers["Set-Cookie"].partition(";")[0]}


@pytest.fixture(scope="module", params=PROGRAMS)
def site(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Site]:
    folder = tmp_path_factory.mktemp("site")
    certificates = prepare_certificates(folder / "tls", NAME, datetime.now(UTC))
    ports = Ports(a_free_port(), a_free_port(), a_free_port())
    words = ["serve", "--behind-proxy", "127.0.0.1", "--port", str(ports.shed)]
    words += ["--origin", f"https://{NAME}:{ports.secure}"]
    with (
        running(folder, *words) as printed,
        running_proxy(request.param, folder, ports, certificates) as proxy,
    ):
        link = re.search(rf"{proxy.origin}/#/join/([\w-]+)", printed)
        assert link is not None, printed
        site = Site(proxy, Answer(0, None, b""))  # type: ignore[arg-type]
        site.joined = site.write("/api/session", {"code": link[1], "device_name": "Lead's phone"})
        yield site


def test_pairing_through_a_proxy_gives_a_cookie_bound_to_the_public_name(site: Site) -> None:
    assert site.joined.status == HTTPStatus.CREATED, site.joined.body
    cookie = site.joined.headers["Set-Cookie"]
    assert cookie.startswith("__Host-shedbook_device=")
    for part in ("Secure", "HttpOnly", "SameSite=Strict", "Path=/"):
        assert part in cookie


def test_entries_are_pushed_and_pulled_through_a_proxy(site: Site) -> None:
    session = json.loads(site.joined.body)
    garden = session["garden"]["id"]
    phone = Phone(None, garden, session["device"]["id"], session["person"]["id"])  # type: ignore[arg-type]
    body = {
        "notebook": phone.notebook,
        "entries": [phone.entry(details={"text": "Through the gate."})],
        "cursor": 0,
        "waiting": 0,
    }
    pushed = site.write(f"/api/gardens/{garden}/sync", body, headers=site.cookie)
    assert json.loads(pushed.body)["answers"][0]["result"] == "accepted", pushed.body
    packing = {**site.cookie, "Accept-Encoding": "gzip"}
    pulled = site.proxy.ask("GET", f"/api/gardens/{garden}/findings", headers=packing)
    assert pulled.status == HTTPStatus.OK
    is_packed = pulled.headers.get("Content-Encoding") == "gzip"
    assert json.loads(gzip.decompress(pulled.body) if is_packed else pulled.body)


def test_a_page_of_another_origin_is_refused_through_a_proxy(site: Site) -> None:
    foreign = {**site.cookie, "Origin": "https://elsewhere.example"}
    refused = site.write("/api/session", {}, headers=foreign)
    assert (refused.status, refused.code) == (HTTPStatus.FORBIDDEN, "wrong_origin")


def test_a_guesser_is_held_back_whatever_address_it_claims_and_others_are_not(site: Site) -> None:
    tried = [
        site.guess(
            "127.0.0.5", **{"X-Forwarded-For": f"10.0.0.{n}", "Forwarded": f"for=10.0.1.{n}"}
        )
        for n in range(11)
    ]
    assert tried == [HTTPStatus.UNPROCESSABLE_ENTITY] * 10 + [HTTPStatus.TOO_MANY_REQUESTS]
    assert site.guess("127.0.0.6") == HTTPStatus.UNPROCESSABLE_ENTITY


def test_who_goes_around_the_proxy_is_not_believed(site: Site) -> None:
    body = {"code": "ABCDEFGH", "device_name": "Guess"}
    for _ in range(11):
        claim = {"X-Shedbook": "1", "Content-Type": "application/json"}
        claim |= {"X-Forwarded-For": "127.0.0.7", "X-Forwarded-Proto": "https"}
        direct = site.proxy.ask_shed(
            "POST", "/api/session", source="127.0.0.8", body=body, headers=claim
        )
    assert direct.status == HTTPStatus.TOO_MANY_REQUESTS
    assert site.guess("127.0.0.7") == HTTPStatus.UNPROCESSABLE_ENTITY


def test_a_photo_and_the_largest_batch_fit_through_and_more_is_refused(site: Site) -> None:
    """What fits reaches the shed's own check of its JSON; the shed itself names its limit."""
    for size in (PHOTO_BYTES, BODY_LIMIT_BYTES):
        assert site.write("/api/session", b"x" * size).code == "broken_json"
    assert site.write("/api/session", b"x" * (BODY_LIMIT_BYTES + 1)).code == "too_large"
    refused = site.write("/api/session", b"x" * (3 * BODY_LIMIT_BYTES))
    assert refused.status == HTTPStatus.REQUEST_ENTITY_TOO_LARGE


def test_the_page_comes_with_its_policy_and_asks_browsers_to_stay_with_https(site: Site) -> None:
    page = site.proxy.ask("GET", "/")
    assert page.status == HTTPStatus.OK
    assert "require-trusted-types-for 'script'" in page.headers["Content-Security-Policy"]
    assert page.headers["Strict-Transport-Security"] == "max-age=31536000"


def test_plain_http_leads_to_https(site: Site) -> None:
    plain = http.client.HTTPConnection("127.0.0.1", site.proxy.ports.plain, timeout=20)
    plain.request("GET", "/", headers={"Host": NAME})
    answer = plain.getresponse()
    plain.close()
    assert answer.status in {HTTPStatus.MOVED_PERMANENTLY, HTTPStatus.PERMANENT_REDIRECT}
    assert answer.headers["Location"].startswith(f"https://{NAME}")
