"""A hybrid logical clock: the twin of client/log/clock.js.

It follows the wall clock but never runs backwards and never stands below anything it has seen, so
"the later change wins" holds even between phones whose clocks disagree. Written as 12 hexadecimal
digits of milliseconds and 4 of a counter, it is ordered by comparing the texts.
"""

import functools
import re

FIRST_CLOCK = "0000000000000000"
# A phone whose clock runs ahead by more than this must not win over everyone else's changes.
TRUSTED_AHEAD_MS = 300_000

_CLOCK = re.compile(r"[0-9a-f]{16}", re.ASCII)
_LAST_MS = 0xFFFFFFFFFFFF
_LAST_COUNTER = 0xFFFF


def is_clock(text: str) -> bool:
    """Whether a text has the form of a clock."""
    return _CLOCK.fullmatch(text) is not None


def clock_text(ms: int, counter: int) -> str:
    """Write a clock; a full counter carries into the next millisecond."""
    if counter > _LAST_COUNTER:
        ms, counter = ms + 1, 0
    if ms < 0 or ms > _LAST_MS:
        raise ValueError("A clock lies between 1970 and the year 10889.")
    return f"{ms:012x}{counter:04x}"


def tick(last: str, now_ms: int) -> str:
    """The clock of a new entry, above the last one this notebook has used or seen."""
    last_ms, last_counter = int(last[:12], 16), int(last[12:], 16)
    if now_ms > last_ms:
        return clock_text(now_ms, 0)
    return clock_text(last_ms, last_counter + 1)


def advance(last: str, seen: str, now_ms: int) -> str:
    """The clock after an entry from elsewhere was seen; pass its `order`, never a higher clock."""
    return tick(last if last > seen else seen, now_ms)


def order_of(clock: str, received_ms: int) -> str:
    """The clock that folds go by: the entry's own, but not far above the time it arrived."""
    ceiling = _ceiling(received_ms)
    return clock if clock < ceiling else ceiling


# The entries of a batch arrive in one and the same millisecond.
@functools.lru_cache(maxsize=64)
def _ceiling(received_ms: int) -> str:
    return clock_text(received_ms + TRUSTED_AHEAD_MS, 0)
