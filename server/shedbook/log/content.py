"""What makes two entries the same: their content, wherever they are numbered or stored."""

import hashlib
import json
from typing import Any

# A phone that opens a new notebook renumbers what is unsent, and the shed adds the last three.
_NOT_CONTENT = frozenset({"notebook", "number", "seq", "order", "received_at"})


def canonical(entry: dict[str, Any]) -> bytes:
    """The entry's content as one fixed text: sorted names, no spaces, 5.0 written as 5."""
    content = {name: _plain(value) for name, value in entry.items() if name not in _NOT_CONTENT}
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return text.encode("utf-8")


def content_hash(entry: dict[str, Any]) -> str:
    """SHA-256 of the content, in hexadecimal."""
    return hashlib.sha256(canonical(entry)).hexdigest()


def _plain(value: Any) -> Any:
    """JSON has one kind of number, so 5.0 from one program equals 5 from another."""
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list):
        return [_plain(item) for item in value]
    if isinstance(value, dict):
        return {name: _plain(item) for name, item in value.items()}
    return value
