"""What no entry may hold, of whatever kind: values that some store or reader would change.

NaN and infinity are not JSON, U+0000 is refused by PostgreSQL, half a surrogate pair has no UTF-8,
and an integer above 2**53 comes back from a phone as another number.
"""

import re
from typing import Any

from shedbook.log.kinds.texts import say

DEEPEST = 8
# The entry itself is depth 0 and its details 1; details may nest 8 deep below that.
_DEEPEST_IN_ENTRY = DEEPEST + 1
LONGEST_TEXT = 4000
LARGEST_EXACT = 2**53 - 1
LARGEST_FINITE = 1.7976931348623157e308

_FORBIDDEN = re.compile("[\x00\ud800-\udfff]")

Messages = dict[str, list[str]]


def forbidden_values(value: Any, path: str = "", depth: int = 0) -> Messages:
    """Every value in a JSON tree that must not be stored, by its path."""
    # Nearly every entry is plain, and paths cost more to build than the look itself.
    if depth == 0 and _is_plain(value, 0):
        return {}
    if isinstance(value, dict | list):
        return _forbidden_inside(value, path, depth)
    if value is None or isinstance(value, bool):
        return {}
    if isinstance(value, str):
        return {path: [say("forbidden_text")]} if _FORBIDDEN.search(value) else {}
    if isinstance(value, int | float):
        return {} if _is_exact(value) else {path: [say("forbidden_number")]}
    return {path: [say("not_json")]}


def overlong_texts(value: Any, path: str, longest: int = LONGEST_TEXT) -> Messages:
    """Every text in a JSON tree that is longer than a log keeps, by its path."""
    if isinstance(value, str) and len(value) > longest:
        return {path: [say("long_text", max=longest)]}
    found: Messages = {}
    if isinstance(value, dict | list):
        items = value.items() if isinstance(value, dict) else enumerate(value)
        for name, item in items:
            found |= overlong_texts(item, f"{path}.{name}", longest)
    return found


def is_storable(text: str) -> bool:
    """Whether every store and reader keeps this text as it is."""
    return _FORBIDDEN.search(text) is None


def _is_plain(value: Any, depth: int) -> bool:
    if isinstance(value, str):
        return is_storable(value)
    if value is None or isinstance(value, bool):
        return True
    if isinstance(value, int | float):
        return _is_exact(value)
    if depth > _DEEPEST_IN_ENTRY or not isinstance(value, dict | list):
        return False
    if isinstance(value, list):
        return all(_is_plain(item, depth + 1) for item in value)
    return all(_is_plain(name, depth) and _is_plain(value[name], depth + 1) for name in value)


def _forbidden_inside(value: dict[Any, Any] | list[Any], path: str, depth: int) -> Messages:
    if depth > _DEEPEST_IN_ENTRY:
        return {path: [say("too_deep", max=DEEPEST)]}
    found: Messages = {}
    items = value.items() if isinstance(value, dict) else enumerate(value)
    for name, item in items:
        if isinstance(name, str) and _FORBIDDEN.search(name):
            return {path: [say("forbidden_text")]}
        found |= forbidden_values(item, f"{path}.{name}" if path else str(name), depth + 1)
    return found


def _is_exact(value: float) -> bool:
    if isinstance(value, int):
        return -LARGEST_EXACT <= value <= LARGEST_EXACT
    # False for NaN and for both infinities.
    return -LARGEST_FINITE <= value <= LARGEST_FINITE
