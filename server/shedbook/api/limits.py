"""Holds back whoever tries codes: a phone code is short, so guesses must be few."""

import threading
from collections import deque

PER_ADDRESS = 10
IN_ALL = 100
WINDOW_MS = 60_000


class SpendLimit:
    """Counts the failed attempts of the last minute, by address and in all.

    In memory, since a code lives for ten minutes: a restart gives a guesser one window more.
    """

    def __init__(self) -> None:
        self._failures: deque[tuple[int, str]] = deque()
        self._lock = threading.Lock()

    def allows(self, address: str, now_ms: int) -> bool:
        """Whether another attempt may be made from this address now."""
        with self._lock:
            self._forget(now_ms)
            own = sum(1 for _, failed in self._failures if failed == address)
            return own < PER_ADDRESS and len(self._failures) < IN_ALL

    def record_failure(self, address: str, now_ms: int) -> None:
        """A code that nobody has was tried."""
        with self._lock:
            self._failures.append((now_ms, address))

    def _forget(self, now_ms: int) -> None:
        while self._failures and self._failures[0][0] <= now_ms - WINDOW_MS:
            self._failures.popleft()
