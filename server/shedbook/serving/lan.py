"""The shed on the local network: its one name and port, its certificates."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from urllib.parse import urlsplit

from shedbook.serving.authority import Certificates, prepare_certificates
from shedbook.serving.origin import FOLDER, OriginError, find_origin, fix_origin

LOCAL = ".local"
DEFAULT_LABEL = "shedbook"
DEFAULT_PORT = 8443
HOST_LABEL = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")


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
    OriginError
        The label is no host label, or the phones of this shed know it by another name or port.
    AuthorityError
        The clock can't be right, or the authority's time is over.
    """
    name = _local_name(label) if label else None
    kept = find_origin(data_folder)
    kept_name, kept_port = _parts_of(kept) if kept else (f"{DEFAULT_LABEL}{LOCAL}", DEFAULT_PORT)
    host_name, fixed_port = name or kept_name, port or kept_port
    fix_origin(data_folder, f"https://{host_name}:{fixed_port}")
    certificates = prepare_certificates(data_folder / FOLDER, host_name, now)
    return Lan(host_name, fixed_port, certificates)


def _parts_of(origin: str) -> tuple[str, int]:
    parts = urlsplit(origin)
    host_name = str(parts.hostname)
    if not host_name.endswith(LOCAL):
        raise OriginError(
            f"The phones of this shed know it as {origin}, behind a proxy. Start it with "
            "--behind-proxy, or move its data to a new folder first."
        )
    return host_name, int(parts.port or 443)


def _local_name(label: str) -> str:
    if not HOST_LABEL.fullmatch(label):
        raise OriginError(
            f"{label!r} can't be a host name. Use small letters, digits and dashes, such as "
            "'bean-shed'."
        )
    return f"{label}{LOCAL}"
