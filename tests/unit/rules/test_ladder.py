"""Hardening off, from log to finding, day by day."""

from shedbook.log.moment import day_text, parse_day
from shedbook.rules.finding import Finding
from tests.unit.rules.logbook import Logbook

TRAY = {"planting": "tray-1"}
FIRST = parse_day("2026-05-10")
HOURS = [1, 2, 3, 4, 6, 8, 10]


def a_tray() -> Logbook:
    """A log with peppers sown in a tray, planned for 20 May."""
    log = Logbook()
    peppers = {"crop": "pepper", "planned_on": "2026-05-20"}
    log.write("planting", "2026-03-18T09:00:00+01:00", peppers, TRAY, id="tray-1")
    log.write("sow", "2026-03-18T09:30:00+01:00", {"place": "tray"}, TRAY)
    return log


def harden(log: Logbook, day: int, hours: float, **more: float) -> None:
    log.write("harden", f"{day_text(day)}T18:00:00+02:00", {"hours_outside": hours, **more}, TRAY)


def found_on(log: Logbook, day: int) -> list[Finding]:
    return log.findings(f"{day_text(day)}T12:00:00+02:00", "harden_off")


def test_each_day_outside_brings_the_next_step_until_the_last() -> None:
    log = a_tray()
    for at, hours in enumerate(HOURS):
        (found,) = found_on(log, FIRST + at)
        assert (found["state"], found["message"]["values"]["step_hours"]) == ("due", hours)
        assert found["settles"] == {"kind": "harden", "details": {"hours_outside": hours}}
        harden(log, FIRST + at, hours)
    (top,) = found_on(log, FIRST + len(HOURS))
    assert (top["state"], top["message"]["values"]) == ("noted", {"days": 7})


def test_a_later_day_never_makes_an_overdue_step_early() -> None:
    log = a_tray()
    harden(log, FIRST, 1)
    order = ["upcoming", "due", "overdue"]
    seen = [
        order.index(found["state"]) for day in range(60) for found in found_on(log, FIRST + day)
    ]
    assert len(seen) == 60
    assert seen == sorted(seen)
    assert set(seen) == {0, 1, 2}


def test_a_cold_day_at_the_first_step_goes_no_further_back() -> None:
    log = a_tray()
    harden(log, FIRST, 1, low_c=2)
    (found,) = found_on(log, FIRST + 1)
    assert found["key"].endswith("/1")


def test_more_days_outside_never_raise_a_flag() -> None:
    flags = []
    for days in range(10):
        log = a_tray()
        for day in range(days):
            harden(log, FIRST + day, 1)
        log.write("transplant", "2026-05-21T09:00:00+02:00", {}, TRAY)
        flags.append(len(found_on(log, parse_day("2026-05-22"))))
    assert flags == [1] * 7 + [0] * 3
