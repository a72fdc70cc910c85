"""Ids that sort by the time they were made (RFC 9562, version 7): twin of client/log/identity.js.

The phone makes them without a network, and without `crypto.randomUUID`, which a page on plain
HTTP does not have.
"""

import functools
import re

_LENGTH = 36
_ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}", re.ASCII)
RANDOM_BYTES = 10


def is_id(text: str) -> bool:
    """Whether a text is a UUID in the one form: lower case with dashes."""
    return _ID.fullmatch(text) is not None


_is_remembered_id = functools.lru_cache(maxsize=4096)(is_id)


def is_id_again(text: str) -> bool:
    """The same, for ids of gardens, people and places, which a batch names over and over; a new one
    costs more."""
    # The length first: what is remembered must not be as long as a sender likes.
    return len(text) == _LENGTH and _is_remembered_id(text)


def new_id(now_ms: int, random_bytes: bytes) -> str:
    """A version 7 UUID from the time and ten random bytes."""
    if len(random_bytes) < RANDOM_BYTES:
        raise ValueError("An id needs ten random bytes.")
    random = bytearray(random_bytes[:RANDOM_BYTES])
    random[0] = 0x70 | (random[0] & 0x0F)
    random[2] = 0x80 | (random[2] & 0x3F)
    digits = f"{now_ms:012x}" + random.hex()
    parts = (digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:])
    return "-".join(parts)
