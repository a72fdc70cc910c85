"""Answers that carry a page of the log, as rows or in columns."""

import json
import threading
from collections import OrderedDict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Any

from flask import Response
from sqlalchemy.orm import Session

from shedbook.api.packing import PackedBeginning, takes_gzip
from shedbook.records.entries import PageRows, find_id_at, stored_text
from shedbook.sync.columns import in_columns

ROWS, COLUMNS = "rows", "columns"
KEPT_BYTES = 8 * 1024 * 1024
# Of entries: some hundred kilobytes of text.
PIECE = 200


@dataclass(frozen=True)
class Place:
    """From where in which log a page is read, and how many entries at most."""

    garden_id: str
    epoch: str
    cursor: int
    limit: int


@dataclass(frozen=True)
class Page:
    """How many entries were read, and the beginning of an answer, up to the end of the member that
    carries them, as JSON.
    """

    count: int
    beginning: bytes | PackedBeginning
    # The id of its last entry, of a page that may be kept.
    last_id: str = ""


NO_PAGE = Page(0, b'{"entries":[]')


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
    rows = PageRows(session, place.garden_id, place.cursor, place.limit)
    pieces = _in_rows(rows)
    beginning = PackedBeginning(pieces) if takes_gzip() else b"".join(pieces)
    return Page(rows.count, beginning) if rows.count else NO_PAGE


def answer_with(page: Page, rest: Mapping[str, Any]) -> Response:
    """The answer as JSON, its page first."""
    # ASCII: an entry that was refused is named as it came, and half a surrogate pair has no UTF-8.
    end = b"," + json.dumps(rest, separators=(",", ":")).encode("ascii")[1:]
    beginning = page.beginning
    if isinstance(beginning, PackedBeginning):
        if takes_gzip():
            packed = Response(beginning.packed_with(end), mimetype="application/json")
            packed.headers["Content-Encoding"] = "gzip"
            return packed
        beginning = beginning.text()
    return Response(beginning + end, mimetype="application/json")


def _in_rows(rows: PageRows) -> Iterator[bytes]:
    """In pieces: the text of a page, and the texts that it is put together from, would else lie in
    memory several times over."""
    yield b'{"entries":['
    one_by_one, between = iter(rows), ""
    while some := list(islice(one_by_one, PIECE)):
        yield (between + ",".join(map(stored_text, some))).encode()
        between = ","
    yield b"]"


def _in_columns(session: Session, place: Place, kept: KeptPages) -> Page:
    found = kept.find(place)
    # A store that was put back without saying so has other entries under the same numbers.
    if found and found.last_id == find_id_at(session, place.garden_id, place.cursor + found.count):
        return found
    rows = PageRows(session, place.garden_id, place.cursor, place.limit)
    columns = in_columns(rows)
    if not rows.count:
        return NO_PAGE
    beginning = b'{"columns":' + _json(columns)
    if not rows.is_full:
        return Page(rows.count, beginning)
    packed = PackedBeginning([beginning])
    page = Page(rows.count, packed, rows.last_id)
    kept.keep(place, page, len(packed))
    return page


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()
