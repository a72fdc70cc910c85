"""The shed on the local network: one fixed origin, its certificates, its mDNS name.

The origin (scheme, name, port) is the phone's storage: a phone that comes by another name finds an
empty notebook. So it is written down at the first start and never changes by itself.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import urlsplit

import ifaddr
from zeroconf import ServiceInfo, Zeroconf

from shedbook.serving.authority import Certificates, prepare_certificates

SERVICE_TYPE = "_https._tcp.local."
ORIGIN_FILE = "origin.txt"
CERTIFICATES_FOLDER = "https"
HOST_LABEL = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")


class LanError(Exception):
    """The shed cannot be opened to the local network; the message says why and what to do."""


@dataclass(frozen=True)
class Lan:
    """What a phone needs to find the shed and to believe it."""

    host_name: str
    port: int
    certificates: Certificates

    @property
    def origin(self) -> str:
        """The one address under which the garden is known, for example https://shed.local:8443."""
        return f"https://{self.host_name}:{self.port}"


def prepare_lan(data_folder: Path, label: str | None, port: int | None, now: datetime) -> Lan:
    """Read the origin that was fixed earlier, or fix it now, and see to the certificates.

    Raises
    ------
    LanError
        The label is no host label, or differs from what the phones of this shed know.
    """
    folder = data_folder / CERTIFICATES_FOLDER
    origin_file = folder / ORIGIN_FILE
    if origin_file.exists():
        host_name, fixed_port = _kept_origin(origin_file.read_text(encoding="utf-8"), label, port)
    else:
        host_name, fixed_port = _local_name(label or "shedbook"), port or 8443
    lan = Lan(host_name, fixed_port, prepare_certificates(folder, host_name, now))
    origin_file.write_text(lan.origin + "\n", encoding="utf-8")
    return lan


def find_origin(data_folder: Path) -> str | None:
    """The origin that this shed's phones know, None if it was never opened to the network."""
    origin_file = data_folder / CERTIFICATES_FOLDER / ORIGIN_FILE
    return origin_file.read_text(encoding="utf-8").strip() if origin_file.exists() else None


def own_addresses() -> list[str]:
    """This machine's addresses in private networks, without loopback."""
    addresses = [
        str(ip.ip) for adapter in ifaddr.get_adapters() for ip in adapter.ips if ip.is_IPv4
    ]
    return [a for a in addresses if ip_address(a).is_private and not ip_address(a).is_loopback]


def announce(lan: Lan, addresses: list[str]) -> Zeroconf:
    """Answer for the shed's name by multicast DNS until the returned object is closed."""
    label = lan.host_name.removesuffix(".local")
    service = ServiceInfo(
        SERVICE_TYPE,
        f"{label}.{SERVICE_TYPE}",
        parsed_addresses=addresses,
        port=lan.port,
        server=f"{lan.host_name}.",
    )
    responder = Zeroconf()
    responder.register_service(service, cooperating_responders=True)
    return responder


def _kept_origin(text: str, label: str | None, port: int | None) -> tuple[str, int]:
    kept = urlsplit(text.strip())
    host_name, kept_port = str(kept.hostname), int(kept.port or 443)
    asked = (_local_name(label) if label else host_name, port or kept_port)
    if asked != (host_name, kept_port):
        raise LanError(
            f"The phones of this shed know it as https://{host_name}:{kept_port}. Under another "
            "name or port they would start with an empty notebook. Start it without --name and "
            "--port, or move its data to a new folder first."
        )
    return host_name, kept_port


def _local_name(label: str) -> str:
    if not HOST_LABEL.fullmatch(label):
        raise LanError(
            f"{label!r} can't be a host name. Use small letters, digits and dashes, such as "
            "'bean-shed'."
        )
    return f"{label}.local"
