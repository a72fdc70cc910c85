"""The side-dressing of peppers, from log to finding."""

import time
from random import Random

from shedbook.log.moment import day_text, parse_day
from tests.unit.rules.logbook import HERE, PEPPERS, Logbook

KEY = f"side_dress/planting:{PEPPERS}/1"
ROW_ONE, ROW_TWO = {**HERE, "plants": [1, 2, 3]}, {**HERE, "plants": [4, 5, 6]}


def test_side_dress_four_and_eight_weeks_after_transplanting_is_due() -> None:
    log = Logbook()
    found = log.findings("2026-06-05T12:00:00+02:00", "side_dress")
    assert [(made["due"], made["state"]) for made in found] == [
        (parse_day("2026-05-08"), "overdue"),
        (parse_day("2026-06-05"), "due"),
    ]
    assert found[0]["message"]["values"]["late_days"] == 28


def test_side_dress_of_one_row_leaves_the_other_row_due() -> None:
    log = Logbook()
    log.write("feed", "2026-05-08T09:00:00+02:00", {"n_percent": 21}, ROW_ONE)
    (found,) = log.findings("2026-05-08T12:00:00+02:00", "side_dress")
    assert (found["key"], found["subject"]["plants"]) == (KEY, [4, 5, 6])
    log.write("feed", "2026-05-08T12:30:00+02:00", {}, ROW_TWO)
    assert log.findings("2026-05-08T13:00:00+02:00", "side_dress") == []


def test_side_dress_after_the_transplanting_was_corrected_keeps_its_key() -> None:
    log = Logbook()
    restated = {"entry": "out", "kind": "transplant", "restated": {}}
    log.write("correct", "2026-04-12T10:00:00+02:00", restated)
    (found,) = log.findings("2026-05-10T12:00:00+02:00", "side_dress")
    assert (found["key"], found["due"]) == (KEY, parse_day("2026-05-10"))


def test_side_dress_after_a_feed_was_taken_back_is_due_again() -> None:
    log = Logbook()
    log.write("feed", "2026-05-08T09:00:00+02:00", {"n_percent": 21}, id="feed-1")
    assert log.findings("2026-05-08T12:00:00+02:00", "side_dress") == []
    log.write("void", "2026-05-08T12:05:00+02:00", {"entry": "feed-1"})
    (found,) = log.findings("2026-05-08T12:10:00+02:00", "side_dress")
    assert found["state"] == "due"


def test_side_dress_after_a_feed_was_corrected_to_no_nitrogen_is_due_again() -> None:
    log = Logbook()
    log.write("feed", "2026-05-08T09:00:00+02:00", {"n_percent": 21}, id="feed-1", answers=KEY)
    restated = {"entry": "feed-1", "kind": "feed", "restated": {"n_percent": 0}}
    log.write("correct", "2026-05-08T09:00:00+02:00", restated, answers=KEY)
    (found,) = log.findings("2026-05-08T12:10:00+02:00", "side_dress")
    assert found["state"] == "due"


def test_ten_thousand_plants_fed_in_many_parts_take_seconds_and_not_minutes() -> None:
    log = Logbook()
    log.write("planting", "2026-04-11T09:00:00+02:00", {"plants": 10_000})
    chance = Random(1)
    for day in range(1, 29):
        fed = {**HERE, "plants": chance.sample(range(1, 10_001), 5000)}
        log.write("feed", f"2026-05-{day:02d}T09:00:00+02:00", {"n_percent": 5}, fed)
    started = time.process_time()
    log.findings("2026-06-05T12:00:00+02:00", "side_dress")
    assert time.process_time() - started < 15


def test_a_later_day_never_makes_an_overdue_sowing_early() -> None:
    log = Logbook()
    tray = {"planting": "tray-1"}
    planned = {"crop": "pepper", "planned_on": "2026-05-20"}
    log.write("planting", "2026-01-02T09:00:00+01:00", planned, tray, id="tray-1")
    order = ["upcoming", "due", "overdue"]
    first = parse_day("2026-02-01")
    seen = [
        order.index(found["state"])
        for day in range(first, first + 120)
        for found in log.findings(f"{day_text(day)}T12:00:00+01:00", "sow_seed")
    ]
    assert seen == sorted(seen)
    assert set(seen) == {0, 1, 2}
