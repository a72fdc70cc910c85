"""Every entry of a log, and each root as it is told last: the twin of client/log/tellings.js."""

from collections.abc import Iterable
from typing import NamedTuple

from shedbook.log.readable import can_be_told
from shedbook.log.telling import MENDING_KINDS, Entry, Held, Telling, is_read, root_of, tell


class Change(NamedTuple):
    """How a root was told before and how it is told now; None for not at all."""

    old: Telling | None
    new: Telling | None


class Tellings:
    """Grows by entries in any order; answers which roots are told in another way."""

    def __init__(self) -> None:
        self.by_root: dict[str, Telling] = {}
        # Entries that this version does not understand or cannot tell: kept, and left out.
        self.unread: set[str] = set()
        self._held: dict[str, Held] = {}
        self._mendings: dict[str, set[str]] = {}

    def add(self, entries: Iterable[Entry]) -> list[Change]:
        """Take entries in, known ones again without effect."""
        roots = set()
        for entry in entries:
            if self._hold(entry):
                roots.add(root_of(entry))
        return self._tell_again(roots)

    def forget(self, entry_ids: Iterable[str]) -> list[Change]:
        """Leave entries out again."""
        roots = set()
        for entry_id in entry_ids:
            held = self._held.pop(entry_id, None)
            if held is None or entry_id in self.unread:
                self.unread.discard(entry_id)
                continue
            root_id = root_of(held.entry)
            self._mendings.get(root_id, set()).discard(entry_id)
            roots.add(root_id)
        return self._tell_again(roots)

    def _hold(self, entry: Entry) -> bool:
        """Keep an entry, or the smaller order of a known one; whether that changes a telling."""
        entry_id: str = entry["id"]
        order: str = entry["order"] if "order" in entry else entry["clock"]
        known = self._held.get(entry_id)
        if known is not None and known.order <= order:
            return False
        held = Held(order, entry if known is None else known.entry)
        self._held[entry_id] = held
        if not is_read(held.entry) or not can_be_told(held.entry):
            self.unread.add(entry_id)
            return False
        if held.entry["kind"] in MENDING_KINDS:
            self._mendings.setdefault(root_of(held.entry), set()).add(entry_id)
        return True

    def _tell_again(self, roots: set[str]) -> list[Change]:
        changes = []
        for root_id in roots:
            old, new = self.by_root.pop(root_id, None), self._tell(root_id)
            if new is not None:
                self.by_root[root_id] = new
            changes.append(Change(old, new))
        return changes

    def _tell(self, root_id: str) -> Telling | None:
        root = self._held.get(root_id)
        if root is None or root_id in self.unread or root.entry["kind"] in MENDING_KINDS:
            return None
        return tell(root, [self._held[one] for one in self._mendings.get(root_id, ())])
