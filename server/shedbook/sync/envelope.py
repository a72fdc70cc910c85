"""Reads what surrounds an entry's details: just enough to know which entry this is.

Whatever can be read this far has a number, and is kept: in the log, or set aside.
"""

from dataclasses import dataclass
from typing import Any

from shedbook.log.check import check_entry
from shedbook.log.content import content_hash
from shedbook.records.entries import STORED_KEYS

Texts = dict[str, list[str]]


@dataclass(frozen=True)
class Unreadable:
    """Too little could be read to store the entry; it is handed back with the reasons."""

    id: str | None
    number: int | None
    problems: Texts


@dataclass(frozen=True)
class Readable:
    """An entry whose identity is known; `problems` says whether it can go into the log."""

    id: str
    number: int
    entry: dict[str, Any]
    content_hash: str
    problems: Texts
    remarks: Texts


def read_entry(raw: Any, garden_id: str, notebook_id: str, now_ms: int) -> Readable | Unreadable:
    """Read one entry of a batch. Pure: what it says depends on nothing in the store."""
    if not isinstance(raw, dict):
        return Unreadable(None, None, {"_schema": ["An entry must be an object."]})
    entry = {key: value for key, value in raw.items() if key not in STORED_KEYS}
    checked = check_entry(entry, now_ms // 1000)
    unreadable = dict(checked.unreadable)
    if "garden" not in unreadable and entry.get("garden") != garden_id:
        unreadable["garden"] = ["Must be the garden that the request is sent to."]
    if "notebook" not in unreadable and entry.get("notebook") != notebook_id:
        unreadable["notebook"] = ["Must be the notebook that the request names."]
    if unreadable:
        return Unreadable(_text(entry.get("id")), _whole(entry.get("number")), unreadable)
    return Readable(
        id=entry["id"],
        number=entry["number"],
        entry=entry,
        content_hash=content_hash(entry),
        problems=checked.problems,
        remarks=checked.remarks,
    )


def _text(value: Any) -> str | None:
    return value if isinstance(value, str) else None


def _whole(value: Any) -> int | None:
    return value if isinstance(value, int) and not isinstance(value, bool) else None
