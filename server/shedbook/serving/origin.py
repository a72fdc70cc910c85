"""The one address under which a shed's phones know it, from the first start on.

The origin (scheme, name, port) is the phone's storage: a phone that comes by another name finds an
empty notebook. So it is written down once, is never an IP address, and never changes by itself.
"""

import re
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import SplitResult, urlsplit

# Beside the certificates, which belong to the same name and move with it.
FOLDER = "https"
_FILE = "origin.txt"
_NAME = re.compile(r"(?=.{1,253}$)[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*")


class OriginError(Exception):
    """The shed cannot be opened under this address; the message says why and what to do."""


def find_origin(data_folder: Path) -> str | None:
    """The origin that this shed's phones know, None if it was never fixed."""
    file = data_folder / FOLDER / _FILE
    return file.read_text(encoding="utf-8").strip() if file.exists() else None


def fix_origin(data_folder: Path, origin: str) -> None:
    """Write the origin down at the first start; refuse another one at any later start."""
    kept = find_origin(data_folder)
    if kept is None:
        folder = data_folder / FOLDER
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        (folder / _FILE).write_text(origin + "\n", encoding="utf-8")
    elif kept != origin:
        raise OriginError(
            f"The phones of this shed know it as {kept}. Under {origin} they would start with an "
            "empty notebook. Start it as before, or move its data to a new folder first."
        )


def public_origin(text: str) -> str:
    """The origin of a shed behind a proxy, written as browsers write it.

    Raises
    ------
    OriginError
        It is not https, has no host name, or has more than name and port.
    """
    wrong = OriginError(
        f"{text!r} can't be the shed's address. Write https, the host name and nothing else, such "
        "as https://garden.example; never an IP address, which may change."
    )
    try:
        parts = urlsplit(text)
        name, port = parts.hostname or "", parts.port
    except ValueError:
        raise wrong from None
    if not _is_bare(parts) or not _is_host_name(name):
        raise wrong
    return f"https://{name}" if port in {None, 443} else f"https://{name}:{port}"


def _is_bare(parts: SplitResult) -> bool:
    more = parts.path.removeprefix("/") + parts.query + parts.fragment
    return parts.scheme == "https" and not more and "@" not in parts.netloc


def _is_host_name(name: str) -> bool:
    try:
        ip_address(name)
    except ValueError:
        # What ends in a number is an IPv4 address to browsers, however it is written.
        return bool(_NAME.fullmatch(name)) and not name.rsplit(".", 1)[-1].isdigit()
    return False
