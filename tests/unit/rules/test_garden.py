"""Looking again at the subjects that entries touched gives what looking at all gives."""

from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.log.ledger import Ledger
from shedbook.rules.finding import Finding
from shedbook.rules.garden import (
    Subject,
    findings_of_garden,
    findings_of_subject,
    subjects_touched,
)
from shedbook.rules.rulebook import load_rulebook
from tests.unit.rules.gardens import RandomGarden
from tests.unit.rules.logbook import BED, PEPPERS, Logbook


@settings(max_examples=50)
@given(st.integers(min_value=0, max_value=1_000_000))
def test_findings_kept_up_to_date_by_touched_subjects_equal_all_findings(seed: int) -> None:
    garden = RandomGarden(seed)
    at = (load_rulebook(), garden.today, garden.now)
    ledger = Ledger()
    kept: dict[Subject, list[Finding]] = {}
    for entry in garden.entries:
        for subject in subjects_touched(ledger, ledger.add([entry])):
            kept[subject] = findings_of_subject(ledger, subject, *at)
    up_to_date = [made for found in kept.values() for made in found]
    assert sorted(up_to_date, key=lambda made: made["key"]) == findings_of_garden(ledger, *at)


def test_work_on_a_planting_touches_its_bed_and_all_that_stand_there() -> None:
    log = Logbook()
    beans = {"bed": BED, "planting": "beans-1"}
    log.write("planting", "2026-04-11T09:00:00+02:00", {"crop": "bean"}, beans, id="beans-1")
    touched = log.write("treat", "2026-06-01T09:00:00+02:00", {"method": "product"})
    assert subjects_touched(log.ledger, touched) == [
        ("bed", BED),
        ("planting", "beans-1"),
        ("planting", PEPPERS),
    ]


def test_rain_touches_every_subject() -> None:
    log = Logbook()
    touched = log.write("rain", "2026-06-01T09:00:00+02:00", {"depth_mm": 7}, {})
    assert subjects_touched(log.ledger, touched) == [("bed", BED), ("planting", PEPPERS)]


def test_a_hidden_planting_has_no_findings_and_is_still_touched() -> None:
    log = Logbook()
    touched = log.write("void", "2026-06-01T09:00:00+02:00", {"entry": PEPPERS})
    assert ("planting", PEPPERS) in subjects_touched(log.ledger, touched)
    assert log.findings("2026-06-05T09:00:00+02:00", "side_dress") == []
