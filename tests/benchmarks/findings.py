"""Fresh findings: what is due after a push of 50 entries, in a log and in one of twelve times it.

A log can be long in two ways: twelve times the beds in one season, whose answer holds twelve times
the findings too; or the same beds over twelve seasons, each with plantings of its own. The 50
entries are about one bed. Measured is the push with the question after it, as a dashboard asks it:
all findings, or those of the bed; by the clock, and by how long the server ran on a core, which
says more while others use the machine. The logs take turns: what disturbs one disturbs all.
"""

import random
import time
from collections.abc import Callable
from contextlib import ExitStack
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from shedbook.log.moment import moment_text, parse_moment
from tests.api.builders import Phone
from tests.benchmarks.connection import (
    BenchShed,
    KeptConnection,
    a_shed,
    read_answer,
    sync_body,
)
from tests.benchmarks.log_entries import (
    HABITS,
    OFFSET_MINUTES,
    SEASON_DAYS,
    SEED,
    Entry,
    Places,
    a_garden_of,
    season_of,
)
from tests.benchmarks.push import BATCH
from tests.benchmarks.reference import Row, median

SEASON_ENTRIES = 3_000
BEDS = 12
PLANTINGS = 30
TIMES = 12
PUSHED = 50
REPEATS = 9
YEAR_DAYS = 365
DAY_S = 86_400
# One family after another, the one of today first: each crop of the same family in the years before
# would be a finding more, and the answers would differ.
CROPS = ("pepper", "bean", "cabbage", "onion")
# A log that takes longer than this to fill and to answer from at first ends the run.
LONGEST_S = 300
# The rest of a season's entries are weather.
SHARE_OF_WORK = 0.85
AIM = "at most 1.3"
ALL, OF_BED, AGAIN = (
    "push, then all findings",
    "push, then those of the bed",
    "all findings, nothing new",
)


class Taken(NamedTuple):
    """Seconds until the answer was there, and for which the server ran."""

    clock_s: float
    cpu_s: float


class Log:
    """A shed with one of the logs in it, and a phone that asks; what each question took."""

    def __init__(
        self, shed: BenchShed, write: Callable[[Phone], tuple[Places, list[Entry]]]
    ) -> None:
        begun = time.monotonic()
        self._shed = shed
        self._phone = KeptConnection(shed, shed.pair("lead", "Inés"))
        places, entries = write(self._phone.pen)
        for start in range(0, len(entries), BATCH):
            _push(self._phone, entries[start : start + BATCH])
        self._bed = places.beds[0]
        self._own = Places([self._bed], [one for one in places.plantings if one[1] == self._bed])
        # One bed after another: a request of its own for each can't take longer than one may.
        for one in places.beds:
            self._phone.get(f"/findings?bed={one}")
            assert time.monotonic() - begun < LONGEST_S, "The log takes too long to fill."
        self.findings = len(read_answer(self._phone.get("/findings"))["findings"])
        self.taken: dict[str, list[Taken]] = {ALL: [], OF_BED: [], AGAIN: []}

    def ask_all(self, turn: int) -> None:
        """Each question once, after pushes of their own."""
        everything, of_bed = "/findings", f"/findings?bed={self._bed}"
        self.taken[ALL].append(self._after_push(2 * turn, everything))
        self.taken[AGAIN].append(self._timed(lambda: self._phone.get(everything)))
        self.taken[OF_BED].append(self._after_push(2 * turn + 1, of_bed))

    def close(self) -> None:
        """Let go of the connection."""
        self._phone.close()

    def _after_push(self, seed: int, question: str) -> Taken:
        """The push of 50 entries about one bed until the question is answered."""
        entries = _about(self._phone.pen, self._own, seed)
        return self._timed(lambda: (_push(self._phone, entries), self._phone.get(question)))

    def _timed(self, work: Callable[[], object]) -> Taken:
        begun, ran = time.perf_counter(), self._shed.cpu_s()
        work()
        return Taken(time.perf_counter() - begun, self._shed.cpu_s() - ran)


def measure() -> list[Row]:
    """The same work in three logs."""
    writes: dict[str, Callable[[Phone], tuple[Places, list[Entry]]]] = {
        "one season": lambda phone: _seasons(phone, 1),
        f"{TIMES} seasons": lambda phone: _seasons(phone, TIMES),
        f"{TIMES} times the beds": _many_beds,
    }
    with ExitStack() as opened:
        logs = {}
        for name, write in writes.items():
            logs[name] = Log(opened.enter_context(a_shed()), write)
            opened.callback(logs[name].close)
        for turn in range(REPEATS):
            for log in logs.values():
                log.ask_all(turn)
    small, *large = logs.items()
    return [row for name, log in large for row in _rows(name, log, small[1])]


def _rows(name: str, large: Log, small: Log) -> list[Row]:
    rows = []
    for question in (ALL, OF_BED, AGAIN):
        for way in Taken._fields:
            long_s, short_s = (
                median(getattr(one, way) for one in log.taken[question]) for log in (large, small)
            )
            told = "of the server" if way == "cpu_s" else "until answered"
            rows.append(
                Row(
                    f"{name}: {question}, {told}",
                    f"{long_s * 1000:.0f} ms, {large.findings} findings",
                    f"{short_s * 1000:.0f} ms, {small.findings} findings",
                    long_s / short_s,
                    AIM,
                )
            )
    return rows


def _push(phone: KeptConnection, entries: list[Entry]) -> None:
    answer = read_answer(phone.post("/sync", sync_body(phone.pen, entries, 0, page=1)))
    assert {one["result"] for one in answer["answers"]} == {"accepted"}


def _about(phone: Phone, own: Places, seed: int) -> list[Entry]:
    """What a grower writes down today of one bed."""
    dice = random.Random(seed)
    habits = [habit for habit in HABITS if habit[2] == "planting"]
    now = int(time.time())
    entries = []
    for place in range(PUSHED):
        _, kind, _, figures = dice.choice(habits)
        planting, bed = dice.choice(own.plantings)
        at = moment_text(now - 60 * place, OFFSET_MINUTES)
        subjects = {"bed": bed, "planting": planting}
        entries.append(phone.entry(kind, figures(dice), subjects, happened_at=at))
    return entries


def _seasons(phone: Phone, seasons: int) -> tuple[Places, list[Entry]]:
    """The same beds year after year, with other plantings each; the last season runs now."""
    places, entries = a_garden_of(phone, BEDS, PLANTINGS)
    today = datetime.now(UTC).date()
    for ago in range(seasons - 1, 0, -1):
        ended_on = (today - timedelta(days=ago * YEAR_DAYS)).isoformat()
        crop = CROPS[ago % len(CROPS)]
        made = [phone.planting(bed, crop=crop, ended_on=ended_on) for _, bed in places.plantings]
        then = Places(places.beds, [(one["id"], one["subjects"]["bed"]) for one in made])
        # Of its own seed: the same would make the same ids.
        season = [
            *_set_out(phone, then),
            *season_of(phone, then, SEASON_ENTRIES, seed=SEED + ago),
        ]
        entries += [*made, *(_earlier(entry, ago * YEAR_DAYS) for entry in season)]
    season = season_of(phone, places, SEASON_ENTRIES)
    return places, [*entries, *_set_out(phone, places), *map(_dry_today, season)]


def _many_beds(phone: Phone) -> tuple[Places, list[Entry]]:
    """Twelve times the work in one season, but no more weather than falls on one garden."""
    places, made = a_garden_of(phone, BEDS * TIMES, PLANTINGS * TIMES)
    made += _set_out(phone, places)
    season = season_of(phone, places, round(SEASON_ENTRIES * TIMES / SHARE_OF_WORK))
    kept = [entry for place, entry in enumerate(season) if entry["subjects"] or place % TIMES == 0]
    told = [*made, *map(_dry_today, kept)]
    entries = [entry | {"number": number} for number, entry in enumerate(told, 1)]
    phone.number = len(entries)
    return places, entries


def _set_out(phone: Phone, places: Places) -> list[Entry]:
    """Every planting comes into its bed as the season begins."""
    at = moment_text(int(time.time()) - SEASON_DAYS * DAY_S, OFFSET_MINUTES)
    return [
        phone.entry("transplant", {}, {"bed": bed, "planting": planting}, happened_at=at)
        for planting, bed in places.plantings
    ]


def _dry_today(entry: Entry) -> Entry:
    """No rain on the last day: all that is pushed would be flagged as done in wet leaves."""
    is_late = parse_moment(entry["happened_at"]).instant > time.time() - DAY_S
    return entry | {"details": {"depth_mm": 0}} if is_late and entry["kind"] == "rain" else entry


def _earlier(entry: Entry, days: int) -> Entry:
    instant = parse_moment(entry["happened_at"]).instant - days * DAY_S
    return entry | {"happened_at": moment_text(instant, OFFSET_MINUTES)}
