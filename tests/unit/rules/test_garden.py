"""Looking again at the subjects that entries touched gives what looking at all gives."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.log.kinds import KINDS
from shedbook.log.ledger import Ledger
from shedbook.log.moment import DAY_SECONDS, parse_day
from shedbook.rules.finding import Finding
from shedbook.rules.garden import (
    Subject,
    findings_of_garden,
    findings_of_subject,
    subjects_touched,
)
from shedbook.rules.long_ago import LONG_AGO_DAYS, READY_DAYS, STORED_DAYS
from shedbook.rules.rulebook import load_rulebook
from tests.unit.rules.gardens import RandomGarden
from tests.unit.rules.logbook import BED, PEPPERS, Logbook
from tests.unit.rules.twin import as_json, ask_phone

Json = dict[str, Any]


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


def _an_entry(kind: str, at: str, details: Json, subjects: Json, entry_id: str) -> Json:
    return {
        "id": entry_id,
        "kind": kind,
        "version": 1,
        "subjects": subjects,
        "happened_at": at,
        "clock": f"{len(entry_id):012x}0000",
        "person": "marit",
        "device": "phone",
        "details": details,
    }


def _crop(crop_id: str, year: int, **details: Any) -> list[Json]:
    """A crop of nightshades that is planted into the one bed in May."""
    here = {"bed": BED, "planting": crop_id}
    made = {"crop": "tomato", **details}
    return [
        _an_entry("planting", f"{year}-04-10T09:00:00+02:00", made, here, crop_id),
        _an_entry("transplant", f"{year}-05-10T09:00:00+02:00", {}, here, f"{crop_id}-out"),
    ]


_MADE = _an_entry("bed", "2020-01-05T09:00:00+01:00", {"name": "Long bed"}, {"bed": BED}, BED)


def _told_alike(entries: list[Json], today: int) -> list[Finding]:
    """What both sides find at noon of that day."""
    rulebook, now = load_rulebook(), today * DAY_SECONDS + 43_200
    ledger = Ledger()
    ledger.add(entries)
    found = findings_of_garden(ledger, rulebook, today, now)
    question = {"entries": entries, "today": today, "now": now}
    assert ask_phone([{"rulebook": rulebook}, question])[1] == as_json(found)
    return found


def test_a_crop_over_for_long_has_no_findings_while_its_bed_still_tells_its_rest() -> None:
    here = {"bed": BED, "planting": "former"}
    raw = {"origin": "raw_manure", "product": "manure"}
    entries = [
        _MADE,
        *_crop("former", 2024, ended_on="2024-09-30"),
        _an_entry("feed", "2024-08-01T09:00:00+02:00", raw, here, "manure"),
        _an_entry("pick", "2024-09-30T09:00:00+02:00", {"count": 3}, here, "too-early"),
        *_crop("next", 2025),
    ]
    ended = parse_day("2024-09-30")

    def told_on(day: int) -> set[tuple[str, str | None]]:
        found = _told_alike(entries, day)
        return {(made["rule"], made["subject"].get("planting")) for made in found}

    last, after = told_on(ended + LONG_AGO_DAYS), told_on(ended + LONG_AGO_DAYS + 1)
    assert last - after == {("manure_wait", "former")}
    assert ("rotation_rest", "next") in after


def test_a_pick_inside_a_wait_is_told_of_for_three_years_while_fruit_is_in_the_store() -> None:
    here = {"bed": BED, "planting": "former"}
    raw = {"origin": "raw_manure", "product": "manure"}
    stored = {"step": "in", "count": 3, "form": "dried", "place": "attic"}
    entries = [
        _MADE,
        *_crop("former", 2024, ended_on="2024-09-30"),
        _an_entry("feed", "2024-08-01T09:00:00+02:00", raw, here, "manure"),
        _an_entry("pick", "2024-08-25T09:00:00+02:00", {"count": 3}, here, "too-early"),
        _an_entry("store", "2024-09-30T09:00:00+02:00", stored, here, "put-in"),
    ]
    ended = parse_day("2024-09-30")
    taken = _an_entry("store", "2024-12-01T09:00:00+01:00", stored | {"step": "out"}, here, "out")

    def told_on(day: int, *more: Json) -> set[tuple[str, str]]:
        found = _told_alike([*entries, *more], day)
        return {(made["rule"], made["message"]["key"]) for made in found}

    held = {("store_lot", "keeping.held"), ("manure_wait", "manure.flagged")}
    assert told_on(ended + STORED_DAYS) >= held
    assert not told_on(ended + STORED_DAYS + 1) & held
    assert not told_on(ended + LONG_AGO_DAYS + 1, taken) & held


def test_what_made_a_bed_ready_counts_for_as_long_as_the_crop_grows() -> None:
    size = {"name": "Long bed", "length_m": 3, "width_m": 1}
    bed = _an_entry("bed", "2020-01-06T09:00:00+01:00", size, {"bed": BED}, "sized")
    compost = {"product": "compost", "origin": "compost", "n_percent": 1.5, "amount_g": 3000}
    fed = _an_entry("feed", "2024-02-01T09:00:00+01:00", compost, {"bed": BED}, "compost")
    entries = [_MADE, bed, *_crop("perennial", 2024, plants=6), fed]
    came = parse_day("2024-05-10")
    assert came - parse_day("2024-02-01") < READY_DAYS

    def nitrogen_on(day: int) -> list[list[str]]:
        found = _told_alike(entries, day)
        return [made["entries"] for made in found if made["rule"] == "season_nitrogen"]

    assert nitrogen_on(came + 30) == nitrogen_on(came + LONG_AGO_DAYS + 30) == [["compost"]]


def test_no_row_asks_further_back_before_a_planting_than_a_bed_is_made_ready_for_it() -> None:
    asked = [rule["params"].get("before_days", 0) for rule in load_rulebook()["rules"]]
    assert max(asked) == READY_DAYS


def test_no_wait_that_a_form_takes_outlasts_what_is_looked_at() -> None:
    """Else a planting could be out of sight while its picking is still withheld."""
    field = KINDS["treat"].schema().fields["days_to_harvest"]
    assert field.metadata["max"] < LONG_AGO_DAYS


def test_weather_of_long_ago_is_seen_by_no_rule() -> None:
    crop = [_MADE, *_crop("first", 2023)]
    rained = parse_day("2024-06-01")
    rain = _an_entry("rain", "2024-06-01T07:00:00+02:00", {"depth_mm": 30}, {}, "rain")

    def is_seen_on(day: int) -> bool:
        return _told_alike([*crop, rain], day) != _told_alike(crop, day)

    assert is_seen_on(rained + LONG_AGO_DAYS)
    assert not is_seen_on(rained + LONG_AGO_DAYS + 1)
