"""Whether a kind of work is withheld. The best it ever says is that nothing is known against it."""

from collections.abc import Iterable
from typing import Any

from shedbook.rules.finding import Finding

# By how much two clocks may differ and still count as the same time.
AHEAD_S = 300


def withheld(
    findings: Iterable[Finding], kind: str, now: int, known_at: int | None, stale_after_s: float
) -> dict[str, Any]:
    """Blocked until the latest end; unknown when a span is, or when the log may be out of date."""
    about = [made for made in findings if kind in made.get("blocks", ())]
    active = [
        made
        for made in about
        if made["state"] == "blocked" and made["until"] is not None and now < made["until"]
    ]
    unknown = [made for made in about if made["state"] == "unknown"]
    # A phone whose clock was put back knows nothing newer for it.
    stale = known_at is None or now - known_at > stale_after_s or known_at > now + AHEAD_S
    state = "blocked" if active else "unknown" if unknown or stale else "none_known"
    told = active or unknown
    return {
        "state": state,
        "until": max((made["until"] for made in active), default=None),
        "keys": sorted(made["key"] for made in told),
        "known_at": known_at,
    }
