"""Fresh findings: what is due after a push of 50 entries, in a log and in one of twelve times it.

A log can be long in two ways: twelve times the beds in one season, whose answer holds twelve times
the findings too; or the same beds over twelve seasons, each with plantings of its own. The 50
entries are about one bed. Timed is the push with the question after it, as a dashboard asks it:
all findings, or those of the bed.
"""

import random
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from shedbook.log.moment import moment_text, parse_moment
from tests.api.builders import Phone
from tests.benchmarks.connection import KeptConnection, a_shed, read_answer, sync_body
from tests.benchmarks.log_entries import (
    HABITS,
    OFFSET_MINUTES,
    Entry,
    Places,
    a_garden_of,
    season_of,
)
from tests.benchmarks.push import BATCH
from tests.benchmarks.reference import Row, median, seconds

SEASON_ENTRIES = 3_000
BEDS = 12
PLANTINGS = 30
TIMES = 12
PUSHED = 50
REPEATS = 3
YEAR_DAYS = 365
# The rest of a season's entries are weather.
SHARE_OF_WORK = 0.85
AIM = "at most 1.3"


class Timed(NamedTuple):
    """Seconds in the middle of the repeats, and how many findings there were."""

    all_s: float
    bed_s: float
    again_s: float
    findings: int


Write = Callable[[Phone], tuple[Places, list[Entry]]]


def measure() -> list[Row]:
    """The same work in three logs, the small one first."""
    small = _timed(lambda phone: _seasons(phone, 1))
    large = {
        f"{TIMES} seasons": _timed(lambda phone: _seasons(phone, TIMES)),
        f"{TIMES} times the beds": _timed(_many_beds),
    }
    return [row for name, timed in large.items() for row in _rows(name, timed, small)]


def _rows(name: str, large: Timed, small: Timed) -> list[Row]:
    pairs = {
        "push, then all findings": (large.all_s, small.all_s),
        "push, then those of the bed": (large.bed_s, small.bed_s),
        "all findings, nothing new": (large.again_s, small.again_s),
    }
    return [
        Row(
            f"{name}: {asked}",
            f"{large_s * 1000:.0f} ms, {large.findings} findings",
            f"{small_s * 1000:.0f} ms, {small.findings} findings",
            large_s / small_s,
            AIM,
        )
        for asked, (large_s, small_s) in pairs.items()
    ]


def _timed(write: Write) -> Timed:
    with a_shed() as shed:
        phone = KeptConnection(shed, shed.pair("lead", "Inés"))
        places, entries = write(phone.pen)
        for start in range(0, len(entries), BATCH):
            _push(phone, entries[start : start + BATCH])
        bed = places.beds[0]
        own = Places([bed], [one for one in places.plantings if one[1] == bed])
        # One bed after another, since the first answer about all of a long log takes minutes.
        for one in places.beds:
            phone.get(f"/findings?bed={one}")
        of_all, of_bed, again = [], [], []
        for seed in range(REPEATS):
            of_all.append(_after_push(phone, own, seed, "/findings"))
            again.append(seconds(lambda: phone.get("/findings")))
            of_bed.append(_after_push(phone, own, seed + REPEATS, f"/findings?bed={bed}"))
        findings = read_answer(phone.get("/findings"))["findings"]
        phone.close()
    return Timed(median(of_all), median(of_bed), median(again), len(findings))


def _after_push(phone: KeptConnection, own: Places, seed: int, question: str) -> float:
    """Seconds from the push of 50 entries about one bed until the question is answered."""
    entries = _about(phone.pen, own, seed)
    return seconds(lambda: (_push(phone, entries), phone.get(question)))


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
        made = [phone.planting(bed, ended_on=ended_on) for _, bed in places.plantings]
        then = Places(places.beds, [(one["id"], one["subjects"]["bed"]) for one in made])
        season = season_of(phone, then, SEASON_ENTRIES, seed=ago)
        entries += [*made, *(_earlier(entry, ago * YEAR_DAYS) for entry in season)]
    return places, entries + season_of(phone, places, SEASON_ENTRIES)


def _many_beds(phone: Phone) -> tuple[Places, list[Entry]]:
    """Twelve times the work in one season, but no more weather than falls on one garden."""
    places, made = a_garden_of(phone, BEDS * TIMES, PLANTINGS * TIMES)
    season = season_of(phone, places, round(SEASON_ENTRIES * TIMES / SHARE_OF_WORK))
    kept = [entry for place, entry in enumerate(season) if entry["subjects"] or place % TIMES == 0]
    entries = [entry | {"number": number} for number, entry in enumerate([*made, *kept], 1)]
    phone.number = len(entries)
    return places, entries


def _earlier(entry: Entry, days: int) -> Entry:
    instant = parse_moment(entry["happened_at"]).instant - days * 86_400
    return entry | {"happened_at": moment_text(instant, OFFSET_MINUTES)}
