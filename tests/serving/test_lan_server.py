"""What the shed does by itself while it serves its network."""

from datetime import UTC, datetime, timedelta

import pytest

from shedbook.serving import announcing
from shedbook.serving.authority import fingerprint, prepare_certificates
from shedbook.serving.lan import Lan, prepare_lan
from shedbook.serving.lan_server import renewing
from shedbook.serving.tls_front import server_context
from tests.serving.front import wait_until


def test_a_certificate_near_its_end_is_renewed_while_the_shed_runs(tmp_path):
    long_ago = datetime.now(UTC) - timedelta(days=190)
    certificates = prepare_certificates(tmp_path, "shed.local", long_ago)
    before = fingerprint(certificates.server)
    context = server_context(certificates.server, certificates.server_key)
    lan = Lan("shed.local", 8443, certificates)
    with renewing(lan, context, every_s=0.01):
        wait_until(lambda: fingerprint(certificates.server) != before, "not renewed")
    assert fingerprint(certificates.server) != before
    context.load_cert_chain(certificates.server, certificates.server_key)


def test_a_renewal_that_fails_is_told_and_tried_again(tmp_path, caplog):
    long_ago = datetime.now(UTC) - timedelta(days=190)
    certificates = prepare_certificates(tmp_path, "shed.local", long_ago)
    before = fingerprint(certificates.server)
    context = server_context(certificates.server, certificates.server_key)
    # A folder in the place of the new file: it cannot be written, as on a full disk.
    in_the_way = certificates.server.with_suffix(".new")
    in_the_way.mkdir()
    with renewing(Lan("shed.local", 8443, certificates), context, every_s=0.01):
        wait_until(lambda: "certificate not renewed" in caplog.messages, "no failure was told")
        in_the_way.rmdir()
        wait_until(lambda: fingerprint(certificates.server) != before, "not tried again")
    context.load_cert_chain(certificates.server, certificates.server_key)


@pytest.fixture
def told(monkeypatch):
    """What the network is told, in order, with nobody there to hear it."""
    heard = []

    class Responder:
        def register_service(self, service, **_):
            heard.append(service.parsed_addresses())

        def close(self):
            heard.append("closed")

    monkeypatch.setattr(announcing, "Zeroconf", Responder)
    return heard


def test_the_name_follows_the_address_that_a_router_gives_anew(tmp_path, told):
    lan = prepare_lan(tmp_path, "bean-shed", None, datetime.now(UTC))
    # The computer starts before its network does.
    addresses = []
    with announcing.announced(lan, lambda: list(addresses), every_s=0.01):
        addresses.append("192.168.1.20")
        wait_until(lambda: told == [["192.168.1.20"]], "not announced once there is a network")
        addresses[:] = ["192.168.1.33"]
        wait_until(lambda: told[-1] == ["192.168.1.33"], "not announced anew")
        assert told == [["192.168.1.20"], "closed", ["192.168.1.33"]]
    assert told[-1] == "closed"


def test_a_network_that_refuses_is_asked_again(tmp_path, told, monkeypatch, caplog):
    responder = announcing.Zeroconf

    def refuse_once():
        monkeypatch.setattr(announcing, "Zeroconf", responder)
        raise OSError(19, "No such device")

    monkeypatch.setattr(announcing, "Zeroconf", refuse_once)
    lan = prepare_lan(tmp_path, "bean-shed", None, datetime.now(UTC))
    with announcing.announced(lan, lambda: ["192.168.1.20"], every_s=0.01):
        wait_until(lambda: told == [["192.168.1.20"]], "not tried again")
    assert "not announced" in caplog.messages
