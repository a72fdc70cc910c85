"""What the shed does by itself while it serves its network."""

from datetime import UTC, datetime, timedelta

from shedbook.serving.authority import fingerprint, prepare_certificates
from shedbook.serving.lan import Lan
from shedbook.serving.lan_server import renewing
from shedbook.serving.tls_front import server_context


def test_a_certificate_near_its_end_is_renewed_while_the_shed_runs(tmp_path):
    long_ago = datetime.now(UTC) - timedelta(days=190)
    certificates = prepare_certificates(tmp_path, "shed.local", long_ago)
    before = fingerprint(certificates.server)
    context = server_context(certificates.server, certificates.server_key)
    lan = Lan("shed.local", 8443, certificates)
    with renewing(lan, context, every_s=0.01):
        while fingerprint(certificates.server) == before:
            pass
    assert fingerprint(certificates.server) != before
    context.load_cert_chain(certificates.server, certificates.server_key)
