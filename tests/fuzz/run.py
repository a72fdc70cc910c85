"""Many cases in blocks, each in a new shed with a seed of its own, so that one can be had again."""

import logging
import shutil
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from shedbook.serving.app import LOG_FILE, open_data
from tests.fuzz.attempt import Attempt
from tests.fuzz.shed import FuzzedShed

BLOCK = 500
LOOK_EVERY = 125
# One fault tends to be met again and again.
MOST_FAILURES = 40


@dataclass
class Outcome:
    """What was done and what went wrong; `failures` are texts for a person."""

    seed: int
    cases: int = 0
    looks: int = 0
    seconds: float = 0.0
    tally: Counter[str] = field(default_factory=Counter)
    failures: list[str] = field(default_factory=list)

    def line(self) -> str:
        counted = ", ".join(f"{name} {self.tally[name]:,}" for name in sorted(self.tally))
        return (
            f"{self.cases:,} cases of seed {self.seed} in {self.seconds:.0f} s; {counted}; "
            f"log looked through {self.looks} times; {len(self.failures)} failures."
        )


def fuzz(cases: int, seed: int, first_block: int = 0) -> Outcome:
    """Send that many cases; a failed one ends its block and the next one begins anew."""
    outcome = Outcome(seed)
    began = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="shedbook-fuzz-") as folder:
        empty = Path(folder, "empty")
        open_data(empty)
        for place, start in enumerate(range(0, cases, BLOCK), first_block):
            here = Path(folder, f"block-{place}")
            here.mkdir()
            with _listening() as heard:
                shed = FuzzedShed(empty / LOG_FILE, here, Random(f"{seed}/{place}"))
                try:
                    _run_block(shed, min(BLOCK, cases - start), place, outcome, heard)
                finally:
                    shed.close()
            shutil.rmtree(here)
            outcome.tally += shed.tally
            if len(outcome.failures) >= MOST_FAILURES:
                break
    outcome.seconds = time.monotonic() - began
    return outcome


def _run_block(
    shed: FuzzedShed, cases: int, block: int, outcome: Outcome, heard: list[str]
) -> None:
    attempt: Attempt | None = None
    try:
        for case in range(1, cases + 1):
            attempt = shed.next_attempt()
            outcome.cases += 1
            shed.send(attempt)
            if case % LOOK_EVERY == 0 or case == cases:
                attempt = None
                outcome.looks += 1
                shed.look_through()
        assert heard == [], "the shed wrote an error down"
    except Exception:
        sent = "" if attempt is None else f"\nsent: {attempt.body[:2000]!r}"
        outcome.failures.append(
            f"block {block}, case {case}\n{traceback.format_exc()}{''.join(heard)[-6000:]}{sent}"
        )


@contextmanager
def _listening() -> Iterator[list[str]]:
    """Errors that the shed writes into its own output, with their tracebacks."""
    heard: list[str] = []
    listener = logging.Handler(logging.ERROR)
    listener.emit = lambda record: heard.append(  # type: ignore[method-assign]
        logging.Formatter().format(record) + "\n"
    )
    root = logging.getLogger()
    root.addHandler(listener)
    try:
        yield heard
    finally:
        root.removeHandler(listener)
