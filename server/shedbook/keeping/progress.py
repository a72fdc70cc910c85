"""How long work tells where it is: done so far, and how much there is in all."""

from collections.abc import Callable

Progress = Callable[[int, int], None]


def say_nothing(_done: int, _total: int) -> None:
    """For callers that show no progress."""
