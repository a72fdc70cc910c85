"""The shed's origin on the local network, and the page that leads a phone to trust it."""

from datetime import UTC, datetime

import pytest
from cryptography import x509

from shedbook.serving.announcing import own_addresses
from shedbook.serving.authority import fingerprint
from shedbook.serving.headers import HEADERS
from shedbook.serving.lan import prepare_lan
from shedbook.serving.origin import OriginError
from shedbook.serving.trust_page import POLICY, create_trust_page
from shedbook.words import load_words

NOW = datetime(2026, 4, 1, 12, tzinfo=UTC)


def test_the_origin_is_kept_from_the_first_start_on(tmp_path):
    assert prepare_lan(tmp_path, "bean-shed", 9443, NOW).origin == "https://bean-shed.local:9443"
    assert prepare_lan(tmp_path, None, None, NOW).origin == "https://bean-shed.local:9443"


@pytest.mark.parametrize(("label", "port"), [("other", None), (None, 9999)])
def test_another_name_or_port_is_refused_because_phones_would_start_empty(tmp_path, label, port):
    prepare_lan(tmp_path, "bean-shed", 9443, NOW)
    with pytest.raises(OriginError, match="empty notebook"):
        prepare_lan(tmp_path, label, port, NOW)
    assert prepare_lan(tmp_path, None, None, NOW).port == 9443


@pytest.mark.parametrize("label", ["Bean Shed", "-shed", "shed.local", "192.168.1.4"])
def test_a_label_that_is_no_host_name_is_refused_with_an_example(tmp_path, label):
    with pytest.raises(OriginError, match="such as 'bean-shed'"):
        prepare_lan(tmp_path, label, None, NOW)


def test_own_addresses_hold_no_loopback():
    assert not [address for address in own_addresses() if address.startswith("127.")]


def test_the_trust_page_shows_the_fingerprint_of_the_certificate_that_it_hands_out(
    tmp_path,
):
    lan = prepare_lan(tmp_path, "bean-shed", None, NOW)
    client = create_trust_page(lan, 8081).test_client()
    page = client.get("/")
    assert fingerprint(lan.certificates.authority) in page.text
    assert lan.origin in page.text
    handed_out = x509.load_der_x509_certificate(client.get("/shedbook-authority.crt").data)
    kept = x509.load_pem_x509_certificate(lan.certificates.authority.read_bytes())
    assert handed_out == kept


def test_the_trust_page_needs_no_script_and_its_style_is_its_own(tmp_path):
    lan = prepare_lan(tmp_path, "bean-shed", None, NOW)
    client = create_trust_page(lan, 8081).test_client()
    policy = client.get("/").headers["Content-Security-Policy"]
    assert "script-src" not in policy
    assert "trusted-types 'none'" in policy
    assert client.get("/trust.css").mimetype == "text/css"


@pytest.mark.parametrize("path", ["/", "/shedbook-authority.crt", "/trust.css", "/none"])
def test_every_answer_of_the_trust_page_carries_the_strict_headers(tmp_path, path):
    lan = prepare_lan(tmp_path, "bean-shed", None, NOW)
    answer = create_trust_page(lan, 8081).test_client().get(path)
    assert answer.status_code == (404 if path == "/none" else 200)
    expected = HEADERS | {"Content-Security-Policy": POLICY, "Cache-Control": "no-store"}
    assert expected.items() <= dict(answer.headers).items()


def test_the_trust_page_leads_each_kind_of_device_and_shows_its_own_address(tmp_path):
    lan = prepare_lan(tmp_path, "bean-shed", None, NOW)
    page = create_trust_page(lan, 8081).test_client().get("/").text
    assert '<html lang="en">' in page
    for device in ("On Android", "On iPhone and iPad", "On a computer"):
        assert device in page
    assert "http://bean-shed.local:8081/" in page
    assert "data:image/svg+xml" in page


def test_the_trust_page_speaks_the_language_that_the_browser_asks_for(tmp_path):
    lan = prepare_lan(tmp_path, "bean-shed", None, NOW)
    asked = {"Accept-Language": "es-MX,es;q=0.9,en;q=0.5"}
    page = create_trust_page(lan, 8081).test_client().get("/", headers=asked)
    assert '<html lang="es">' in page.text
    assert load_words("es")["trust.title"] in page.text
    assert page.headers["Vary"] == "Accept-Language"
