"""The shed's certificate authority: who may read it, what it may vouch for, when it renews."""

import ssl
import stat
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from shedbook.serving.authority import (
    AUTHORITY_LIFETIME,
    AuthorityError,
    fingerprint,
    host_name_of,
    prepare_certificates,
)

NOW = datetime(2026, 4, 1, 12, tzinfo=UTC)


def load(path):
    return x509.load_pem_x509_certificate(path.read_bytes())


def test_keys_can_be_read_by_their_owner_only(tmp_path):
    certificates = prepare_certificates(tmp_path / "tls", "shed.local", NOW)
    for key in (certificates.authority_key, certificates.server_key):
        assert stat.S_IMODE(key.stat().st_mode) == 0o600
    assert stat.S_IMODE(certificates.folder.stat().st_mode) == 0o700


def test_a_renewed_key_can_be_read_by_its_owner_only(tmp_path):
    prepare_certificates(tmp_path, "shed.local", NOW)
    (tmp_path / "server.key").chmod(0o644)
    renewed = prepare_certificates(tmp_path, "shed.local", NOW + timedelta(days=180))
    assert stat.S_IMODE(renewed.server_key.stat().st_mode) == 0o600


def test_the_server_certificate_is_believed_for_the_shed_and_refused_for_another_name(
    tmp_path,
):
    certificates = prepare_certificates(tmp_path, "shed.local", NOW)
    policy = PolicyBuilder().store(Store([load(certificates.authority)])).time(NOW)
    leaf = load(certificates.server)
    assert policy.build_server_verifier(x509.DNSName("shed.local")).verify(leaf, [])
    with pytest.raises(VerificationError):
        policy.build_server_verifier(x509.DNSName("bank.example")).verify(leaf, [])


def test_the_authority_may_not_vouch_for_any_other_name_or_address(tmp_path):
    certificates = prepare_certificates(tmp_path, "shed.local", NOW)
    constraints = load(certificates.authority).extensions.get_extension_for_class(
        x509.NameConstraints
    )
    assert constraints.critical
    assert [name.value for name in constraints.value.permitted_subtrees] == ["shed.local"]
    assert {str(name.value) for name in constraints.value.excluded_subtrees} == {
        "0.0.0.0/0",
        "::/0",
    }
    assert host_name_of(certificates.authority) == "shed.local"


def test_a_second_start_keeps_the_authority_and_the_server_certificate(tmp_path):
    first = prepare_certificates(tmp_path, "shed.local", NOW)
    before = fingerprint(first.authority), fingerprint(first.server)
    prepare_certificates(tmp_path, "shed.local", NOW + timedelta(days=10))
    assert (fingerprint(first.authority), fingerprint(first.server)) == before


def test_near_its_end_the_server_certificate_is_renewed_and_the_authority_kept(
    tmp_path,
):
    certificates = prepare_certificates(tmp_path, "shed.local", NOW)
    authority, server = (
        fingerprint(certificates.authority),
        fingerprint(certificates.server),
    )
    prepare_certificates(tmp_path, "shed.local", NOW + timedelta(days=171))
    assert fingerprint(certificates.authority) == authority
    assert fingerprint(certificates.server) != server


def test_the_server_key_matches_its_certificate(tmp_path):
    certificates = prepare_certificates(tmp_path, "shed.local", NOW)
    ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(
        certificates.server, certificates.server_key
    )
    assert isinstance(load(certificates.server).public_key(), ec.EllipticCurvePublicKey)


def test_nothing_is_made_while_the_clock_cannot_be_right(tmp_path):
    with pytest.raises(AuthorityError, match="Set it"):
        prepare_certificates(tmp_path, "shed.local", datetime(1970, 1, 1, 0, 5, tzinfo=UTC))
    assert list(tmp_path.iterdir()) == []


def test_a_server_certificate_made_while_the_clock_was_ahead_is_made_again(tmp_path):
    ahead = prepare_certificates(tmp_path, "shed.local", NOW)
    server = fingerprint(ahead.server)
    prepare_certificates(tmp_path, "shed.local", NOW - timedelta(days=40))
    assert fingerprint(ahead.server) != server
    assert load(ahead.server).not_valid_before_utc < NOW - timedelta(days=40)


def test_an_authority_whose_time_is_over_says_what_to_do(tmp_path):
    prepare_certificates(tmp_path, "shed.local", NOW)
    with pytest.raises(AuthorityError, match="every phone has to trust the new"):
        prepare_certificates(tmp_path, "shed.local", NOW + AUTHORITY_LIFETIME)


def test_a_new_authority_of_the_same_name_signs_the_server_anew(tmp_path):
    first = prepare_certificates(tmp_path, "shed.local", NOW)
    server = fingerprint(first.server)
    first.authority.unlink()
    prepare_certificates(tmp_path, "shed.local", NOW)
    assert fingerprint(first.server) != server
    load(first.server).verify_directly_issued_by(load(first.authority))


def test_a_key_left_by_a_start_that_was_cut_off_gets_its_certificate(tmp_path):
    certificates = prepare_certificates(tmp_path, "shed.local", NOW)
    other = prepare_certificates(tmp_path / "other", "shed.local", NOW)
    certificates.server_key.write_bytes(other.server_key.read_bytes())
    prepare_certificates(tmp_path, "shed.local", NOW)
    ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(
        certificates.server, certificates.server_key
    )


def test_server_certificates_last_no_longer_than_phones_accept(tmp_path):
    """iOS takes at most 825 days from an authority that its owner added."""
    server = load(prepare_certificates(tmp_path, "shed.local", NOW).server)
    assert server.not_valid_after_utc - server.not_valid_before_utc < timedelta(days=825)
