"""Reads what surrounds an entry's details: just enough to know which entry this is.

Whatever can be read this far has a number, and is kept: in the log, or set aside.
"""

from typing import Any, NamedTuple

from shedbook.log.check import check_closely
from shedbook.log.content import body_of, content_hash, write_evident
from shedbook.log.evident import is_evident
from shedbook.records.entries import STORED_KEYS

Texts = dict[str, list[str]]
# Of an entry's JSON. Every list and text of a kind at its longest together is less: a test adds up.
MOST_CHARACTERS = 128 * 1024


class Unreadable(NamedTuple):
    """Too little could be read to store the entry; it is handed back with the reasons."""

    id: str | None
    number: int | None
    problems: Texts


class Readable(NamedTuple):
    """An entry whose identity is known; `problems` says whether it can go into the log."""

    id: str
    number: int
    entry: dict[str, Any]
    content_hash: str
    body: str
    problems: Texts
    remarks: Texts


def read_entry(raw: Any, garden_id: str, notebook_id: str, now_ms: int) -> Readable | Unreadable:
    """Read one entry of a batch. Pure: what it says depends on nothing in the store."""
    if not isinstance(raw, dict):
        return Unreadable(None, None, {"_schema": ["An entry must be an object."]})
    entry = raw
    if not STORED_KEYS.isdisjoint(raw):
        entry = {key: value for key, value in raw.items() if key not in STORED_KEYS}
    is_meant = entry.get("garden") == garden_id and entry.get("notebook") == notebook_id
    if is_meant and is_evident(entry, now_ms // 1000):
        return Readable(entry["id"], entry["number"], entry, *write_evident(entry), {}, {})
    checked = check_closely(entry, now_ms // 1000)
    unreadable = dict(checked.unreadable)
    if "garden" not in unreadable and entry.get("garden") != garden_id:
        unreadable["garden"] = ["Must be the garden that the request is sent to."]
    if "notebook" not in unreadable and entry.get("notebook") != notebook_id:
        unreadable["notebook"] = ["Must be the notebook that the request names."]
    body = "" if unreadable else body_of(entry)
    if len(body) > MOST_CHARACTERS:
        unreadable["details"] = [
            f"An entry must be {MOST_CHARACTERS} characters of JSON at most; this one is "
            f"{len(body)}."
        ]
    if unreadable:
        return Unreadable(_text(entry.get("id")), _whole(entry.get("number")), unreadable)
    return Readable(
        id=entry["id"],
        number=entry["number"],
        entry=entry,
        content_hash=content_hash(entry),
        body=body,
        problems=checked.problems,
        remarks=checked.remarks,
    )


def _text(value: Any) -> str | None:
    return value if isinstance(value, str) else None


def _whole(value: Any) -> int | None:
    return value if isinstance(value, int) and not isinstance(value, bool) else None
