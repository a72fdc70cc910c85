"""What the composition root hands to the resources."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from flask import current_app, request

from shedbook.api.limits import SpendLimit
from shedbook.api.log_pages import KeptPages
from shedbook.records.readiness import Readiness


@dataclass(frozen=True)
class Shed:
    """The running shed: origin, clock, rules, the digest of its client, and its limits."""

    origin: str | None
    clock_ms: Callable[[], int]
    rulebook: Mapping[str, Any]
    assets_digest: str
    spend_limit: SpendLimit
    photo_limit_bytes: int
    kept_pages: KeptPages = field(default_factory=KeptPages)
    readiness: Readiness = field(default_factory=Readiness)


def shed() -> Shed:
    """The shed of the current app."""
    found = current_app.extensions["shedbook"]
    assert isinstance(found, Shed)
    return found


def own_origin() -> str:
    """Scheme, name and port that a page of this shed has."""
    return shed().origin or request.host_url.rstrip("/")
