"""The shed's own certificate authority, for HTTPS on the local network.

A phone gives no service worker and no camera to a page on plain HTTP, and no public authority
issues certificates for a name that exists only at home. So the shed makes an authority once, bound
to its one host name: whoever steals its key can imitate the shed, and nothing else.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Network, IPv6Network
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from shedbook.records.readiness import EARLIEST_MS

AUTHORITY_LIFETIME = timedelta(days=3650)
SERVER_LIFETIME = timedelta(days=200)
RENEW_BEFORE_END = timedelta(days=30)
# A phone's clock may be behind the shed's: certificates start a day early.
START_EARLY = timedelta(days=1)


class AuthorityError(Exception):
    """No certificate can be made that a phone would believe; the message says what to do."""


@dataclass(frozen=True)
class Certificates:
    """Where the shed's certificates lie. The keys can be read by their owner only."""

    folder: Path

    @property
    def authority(self) -> Path:
        """The authority's certificate, the one that a phone is asked to trust."""
        return self.folder / "authority.pem"

    @property
    def authority_key(self) -> Path:
        """The authority's key. It never enters a backup."""
        return self.folder / "authority.key"

    @property
    def server(self) -> Path:
        """The server's certificate, issued by the authority."""
        return self.folder / "server.pem"

    @property
    def server_key(self) -> Path:
        """The server's key."""
        return self.folder / "server.key"


def prepare_certificates(folder: Path, host_name: str, now: datetime) -> Certificates:
    """Make the authority where there is none, and a server certificate where one is wanted.

    Raises
    ------
    AuthorityError
        The clock can't be right, or the authority's time is over.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    certificates = Certificates(folder)
    _require_time(certificates, now)
    if not certificates.authority.exists():
        _make_authority(certificates, host_name, now)
    if not _is_current(certificates, host_name, now):
        _issue_server_certificate(certificates, host_name, now)
    return certificates


def _require_time(certificates: Certificates, now: datetime) -> None:
    """A small computer without a battery wakes up years ago, and phones know what day it is."""
    if now.timestamp() * 1000 < EARLIEST_MS:
        raise AuthorityError(
            f"This computer's clock says {now:%Y-%m-%d}. Set it, or wait until it is set from the "
            "network: phones believe no certificate of another year."
        )
    if certificates.authority.exists() and _read(certificates.authority).not_valid_after_utc <= now:
        raise AuthorityError(
            f"The shed's certificate authority ended before {now:%Y-%m-%d}. If that day is right, "
            f"remove {certificates.authority} and start again; every phone has to trust the new "
            "one."
        )


def fingerprint(certificate: Path) -> str:
    """SHA-256 of a certificate, as phones show it: pairs of hexadecimal digits."""
    digest = _read(certificate).fingerprint(hashes.SHA256())
    return ":".join(f"{byte:02X}" for byte in digest)


def as_der(certificate: Path) -> bytes:
    """The certificate in the binary form that phones install."""
    return _read(certificate).public_bytes(serialization.Encoding.DER)


def host_name_of(certificate: Path) -> str:
    """The one host name that an authority may speak for."""
    constraints = _read(certificate).extensions.get_extension_for_class(x509.NameConstraints)
    permitted = constraints.value.permitted_subtrees or []
    return str(permitted[0].value)


def _make_authority(certificates: Certificates, host_name: str, now: datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = _name(f"Shedbook at {host_name}")
    certificate = (
        _builder(name, name, key.public_key(), now, AUTHORITY_LIFETIME)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_key_usage(signs_certificates=True), critical=True)
        .add_extension(_only(host_name), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write_key(certificates.authority_key, key)
    _write(certificates.authority, certificate)


def _issue_server_certificate(certificates: Certificates, host_name: str, now: datetime) -> None:
    authority = _read(certificates.authority)
    authority_key = _key_of(certificates.authority_key)
    key = ec.generate_private_key(ec.SECP256R1())
    certificate = (
        _builder(_name(host_name), authority.subject, key.public_key(), now, SERVER_LIFETIME)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_key_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(host_name)]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key()),
            critical=False,
        )
        .sign(authority_key, hashes.SHA256())
    )
    _write_key(certificates.server_key, key)
    _write(certificates.server, certificate)


def _is_current(certificates: Certificates, host_name: str, now: datetime) -> bool:
    if not (certificates.server.exists() and certificates.server_key.exists()):
        return False
    certificate = _read(certificates.server)
    names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return (
        host_name in names.get_values_for_type(x509.DNSName)
        # One that was made while the clock was ahead has not begun yet.
        and certificate.not_valid_before_utc <= now
        and certificate.not_valid_after_utc - now > RENEW_BEFORE_END
        and _is_issued_by(certificate, _read(certificates.authority))
        and _key_of(certificates.server_key).public_key() == certificate.public_key()
    )


def _is_issued_by(certificate: x509.Certificate, authority: x509.Certificate) -> bool:
    """By its signature: an authority that was made anew has the same name."""
    try:
        certificate.verify_directly_issued_by(authority)
    except (ValueError, InvalidSignature):
        return False
    return True


def _builder(
    subject: x509.Name,
    issuer: x509.Name,
    public_key: ec.EllipticCurvePublicKey,
    now: datetime,
    lifetime: timedelta,
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(public_key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - START_EARLY)
        .not_valid_after(now + lifetime)
    )


def _only(host_name: str) -> x509.NameConstraints:
    return x509.NameConstraints(
        permitted_subtrees=[x509.DNSName(host_name)],
        excluded_subtrees=[
            x509.IPAddress(IPv4Network("0.0.0.0/0")),
            x509.IPAddress(IPv6Network("::/0")),
        ],
    )


def _key_usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        encipher_only=False,
        decipher_only=False,
    )


def _name(text: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, text)])


def _read(path: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(path.read_bytes())


def _key_of(path: Path) -> ec.EllipticCurvePrivateKey:
    key = serialization.load_pem_private_key(path.read_bytes(), password=None)
    assert isinstance(key, ec.EllipticCurvePrivateKey)
    return key


def _write(path: Path, certificate: x509.Certificate) -> None:
    # In one step, so that whoever reads it meanwhile finds a whole certificate.
    fresh = path.with_suffix(".new")
    fresh.write_bytes(certificate.public_bytes(serialization.Encoding.PEM))
    fresh.replace(path)


def _write_key(path: Path, key: ec.EllipticCurvePrivateKey) -> None:
    text = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    # Created with its mode, so that the key is at no moment readable by others.
    path.unlink(missing_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(text)


def today_utc() -> datetime:
    """The instant from which certificates are reckoned."""
    return datetime.now(UTC)
