"""Who is asking, and whether they may: decided before a view sees the request."""

from collections.abc import Collection
from urllib.parse import urlsplit

from flask import Response, request

from shedbook.api.context import own_origin, shed
from shedbook.api.errors import ApiError
from shedbook.records.people import Paired, find_paired

ANYONE = "anyone"
EVERY_ROLE = ("lead", "helper", "reader")
COOKIE_SECONDS = 400 * 24 * 60 * 60
_SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})


def require_access(allow: Collection[str], garden_id: str | None) -> Paired | None:
    """The paired device behind the request; None where anyone may ask."""
    _require_known_name()
    if request.method not in _SAFE_METHODS:
        _require_own_page()
    if ANYONE in allow:
        return None
    paired = find_caller()
    if paired is None:
        raise ApiError("not_paired")
    if paired.is_revoked:
        raise ApiError("revoked")
    # Another garden is not forbidden but absent: its ids must not be told apart from made-up ones.
    if garden_id is not None and garden_id != paired.garden_id:
        raise ApiError("not_found")
    if paired.role not in allow:
        raise ApiError("not_permitted")
    return paired


def find_caller() -> Paired | None:
    """The device whose secret the request carries."""
    secret = request.cookies.get(cookie_name())
    return find_paired(secret) if secret else None


def cookie_name() -> str:
    """On https the prefix makes browsers refuse a cookie that another host name has set."""
    return "__Host-shedbook_device" if _is_https() else "shedbook_device"


def give_secret(response: Response, secret: str) -> None:
    """Let the browser keep the secret; no script can read it."""
    response.set_cookie(
        cookie_name(),
        secret,
        max_age=COOKIE_SECONDS,
        path="/",
        secure=_is_https(),
        httponly=True,
        samesite="Strict",
    )


def take_secret(response: Response) -> None:
    """Let the browser forget the secret."""
    response.delete_cookie(
        cookie_name(), path="/", secure=_is_https(), httponly=True, samesite="Strict"
    )


def _require_known_name() -> None:
    """A shed without an origin serves its own computer alone.

    Whatever name a browser used is then taken for the shed's, so a page elsewhere must not be able
    to bring its own: its name, pointed at this computer, would pass for the shed's origin.
    """
    if shed().origin is None and not _is_loopback(request.host):
        raise ApiError("wrong_origin", hint="Open Shedbook at localhost, or give it an origin.")


def _is_loopback(host: str) -> bool:
    try:
        name = (urlsplit(f"//{host}").hostname or "").removesuffix(".")
    except ValueError:
        return False
    return name in {"localhost", "127.0.0.1", "::1"} or name.endswith(".localhost")


def _require_own_page() -> None:
    if request.headers.get("X-Shedbook") != "1":
        raise ApiError("wrong_origin", "The header X-Shedbook: 1 is missing.")
    origin = request.headers.get("Origin")
    if origin is not None and origin != own_origin():
        raise ApiError("wrong_origin", hint=f"Open Shedbook at {own_origin()}.")


def _is_https() -> bool:
    return own_origin().startswith("https://")
