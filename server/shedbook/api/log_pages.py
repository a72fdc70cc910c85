"""Answers that carry a page of the log, as rows or in columns."""

import json
import threading
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flask import Response, request
from sqlalchemy.orm import Session

from shedbook.api.packing import PackedBeginning
from shedbook.records.entries import entries_after, find_id_at, rows_after
from shedbook.sync.columns import in_columns

ROWS, COLUMNS = "rows", "columns"
KEPT_BYTES = 8 * 1024 * 1024


@dataclass(frozen=True)
class Place:
    """From where in which log a page is read, and how many entries at most."""

    garden_id: str
    epoch: str
    cursor: int
    limit: int


@dataclass(frozen=True)
class Page:
    """How many entries were read, and the member of an answer that carries them, as JSON."""

    count: int
    member: bytes | PackedBeginning
    # The id of its last entry, of a page that may be kept.
    last_id: str = ""


NO_PAGE = Page(0, b'"entries":[]')


class KeptPages:
    """The full pages given last, packed: what lies within them never changes.

    Without it, every phone that joins a garden would have the whole log packed anew.
    """

    def __init__(self, most_bytes: int = KEPT_BYTES) -> None:
        self._most_bytes = most_bytes
        self._bytes = 0
        self._pages: OrderedDict[Place, tuple[Page, int]] = OrderedDict()
        self._turn = threading.Lock()

    def find(self, place: Place) -> Page | None:
        """The page from this place; whether the log still has its last entry is to be asked."""
        with self._turn:
            found = self._pages.get(place)
            if found is None:
                return None
            self._pages.move_to_end(place)
            return found[0]

    def keep(self, place: Place, page: Page, size: int) -> None:
        """Keep a page, and let go of those that nobody has asked for the longest."""
        with self._turn:
            _, before = self._pages.pop(place, (None, 0))
            self._pages[place] = (page, size)
            self._bytes += size - before
            while self._bytes > self._most_bytes:
                _, (_, gone) = self._pages.popitem(last=False)
                self._bytes -= gone


def read_page(session: Session, place: Place, form: str, kept: KeptPages) -> Page:
    """The entries above the place, in the asked form; a form that is not known here is rows."""
    if form == COLUMNS:
        return _in_columns(session, place, kept)
    texts = entries_after(session, place.garden_id, place.cursor, place.limit)
    return Page(len(texts), f'"entries":[{",".join(texts)}]'.encode())


def answer_with(page: Page, rest: Mapping[str, Any]) -> Response:
    """The answer as JSON, its page first."""
    # ASCII: an entry that was refused is named as it came, and half a surrogate pair has no UTF-8.
    end = b"," + json.dumps(rest, separators=(",", ":")).encode("ascii")[1:]
    if isinstance(page.member, bytes):
        return Response(b"{" + page.member + end, mimetype="application/json")
    if request.accept_encodings["gzip"] > 0:
        packed = Response(page.member.packed_with(end), mimetype="application/json")
        packed.headers["Content-Encoding"] = "gzip"
        return packed
    return Response(page.member.text() + end, mimetype="application/json")


def _in_columns(session: Session, place: Place, kept: KeptPages) -> Page:
    found = kept.find(place)
    # A store that was put back without saying so has other entries under the same numbers.
    if found and found.last_id == find_id_at(session, place.garden_id, place.cursor + found.count):
        return found
    rows, is_full = rows_after(session, place.garden_id, place.cursor, place.limit)
    if not rows:
        return NO_PAGE
    member = b'"columns":' + _json(in_columns(rows))
    if not is_full:
        return Page(len(rows), member)
    packed = PackedBeginning(b"{" + member)
    page = Page(len(rows), packed, json.loads(rows[-1].body)["id"])
    kept.keep(place, page, len(packed))
    return page


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()
