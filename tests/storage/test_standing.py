"""Findings kept per bed group: forgotten where an entry touches, and always equal to anew."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from flask import Flask
from sqlalchemy import delete, select

from shedbook.log.ledger import Ledger
from shedbook.records import standing as records_standing
from shedbook.records.group_entries import ledger_of_bed_group
from shedbook.records.groups import all_groups, update_homes
from shedbook.records.models import Home, Neighbour, Standing, db
from shedbook.records.standing import KEPT_SECONDS, Moment, standing_of_garden
from shedbook.rules.garden import findings_of_garden
from shedbook.rules.long_ago import LONG_AGO_DAYS
from shedbook.rules.rulebook import load_rulebook
from tests.api.builders import NOW_MS, Clock, Phone

TODAY = 20_605
AT = Moment(TODAY, NOW_MS // 1000)


def _make(phone: Phone, beside: list[str] | None = None) -> tuple[str, str]:
    """A bed and a planting transplanted into it."""
    bed = phone.bed(length_m=3, width_m=1, **({"beside": beside} if beside else {}))
    planting = phone.planting(bed["id"])
    subjects = {"bed": bed["id"], "planting": planting["id"]}
    moment = "2026-04-20T09:00:00+02:00"
    transplant = phone.entry("transplant", {}, subjects, happened_at=moment)
    answers = phone.sync([bed, planting, transplant])["answers"]
    assert {one["result"] for one in answers} == {"accepted"}, answers
    return bed["id"], planting["id"]


def _kept(app: Flask, garden: str) -> set[str]:
    with app.app_context():
        rows = db.session.scalars(select(Standing.bed_group).where(Standing.garden_id == garden))
        return set(rows)


def _read(app: Flask, garden: str, at: Moment = AT) -> list[dict[str, object]]:
    with app.app_context():
        return standing_of_garden(garden, load_rulebook(), at).findings


def _anew(phone: Phone, at: Moment = AT) -> list[dict[str, object]]:
    ledger = Ledger()
    ledger.add(phone.sync()["entries"])
    return findings_of_garden(ledger, load_rulebook(), at.today, at.now_s)


@contextmanager
def _computed(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """The groups that are worked out while the block runs."""
    groups: list[str] = []
    original = records_standing._findings_of_group

    def count(session, garden_id, group, rulebook, at):  # type: ignore[no-untyped-def]
        groups.append(group.id)
        return original(session, garden_id, group, rulebook, at)

    with monkeypatch.context() as patched:
        patched.setattr(records_standing, "_findings_of_group", count)
        yield groups


def test_a_second_reader_computes_nothing(
    app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    bed, _ = _make(lead)
    with _computed(monkeypatch) as groups:
        first = _read(app, lead.garden)
        assert groups == [bed]
        assert _read(app, lead.garden) == first == _anew(lead)
        assert groups == [bed]


def test_an_entry_makes_only_its_own_group_stale(
    app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    bed, planting = _make(lead)
    other, _ = _make(lead)
    _read(app, lead.garden)
    assert _kept(app, lead.garden) == {bed, other}
    lead.sync([lead.entry("scout", {"organism": "aphid", "grade": "few"}, {"planting": planting})])
    assert _kept(app, lead.garden) == {other}
    with _computed(monkeypatch) as groups:
        assert _read(app, lead.garden) == _anew(lead)
    assert groups == [bed]


def test_weather_makes_every_group_stale(app: Flask, lead: Phone) -> None:
    _make(lead)
    _make(lead)
    _read(app, lead.garden)
    lead.sync([lead.entry("rain", {"depth_mm": 12})])
    assert _kept(app, lead.garden) == set()


def test_a_bed_beside_is_stale_too_whichever_of_the_two_says_so(app: Flask, lead: Phone) -> None:
    first, planting = _make(lead)
    second, _ = _make(lead, beside=[first])
    third, _ = _make(lead)
    _read(app, lead.garden)
    lead.sync([lead.entry("pick", {"count": 3}, {"planting": planting})])
    assert _kept(app, lead.garden) == {third}
    _read(app, lead.garden)
    lead.sync([lead.entry("water", {"volume_l": 3}, {"bed": second})])
    assert _kept(app, lead.garden) == {third}
    assert _read(app, lead.garden) == _anew(lead)


def test_a_move_makes_the_old_bed_and_the_new_one_stale(app: Flask, lead: Phone) -> None:
    old, planting = _make(lead)
    new, _ = _make(lead)
    idle, _ = _make(lead)
    _read(app, lead.garden)
    lead.sync([lead.entry("transplant", {}, {"bed": new, "planting": planting})])
    assert _kept(app, lead.garden) == {idle}
    assert _read(app, lead.garden) == _anew(lead)
    with app.app_context():
        groups = {one.id: one for one in all_groups(db.session(), lead.garden)}
    assert groups[old].plantings == []
    assert planting in groups[new].plantings


def test_voiding_an_entry_makes_the_group_of_its_root_stale(app: Flask, lead: Phone) -> None:
    bed, planting = _make(lead)
    other, _ = _make(lead)
    feed = lead.entry("feed", {"product": "compost", "amount_g": 5}, {"planting": planting})
    lead.sync([feed])
    fed = _read(app, lead.garden)
    lead.sync([lead.entry("void", {"entry": feed["id"]})])
    assert _kept(app, lead.garden) == {other}
    after = _read(app, lead.garden)
    assert after == _anew(lead)
    assert {one["key"] for one in after} != {one["key"] for one in fed}
    assert bed != other


def test_a_correction_that_moves_an_event_touches_both_beds(app: Flask, lead: Phone) -> None:
    first, _ = _make(lead)
    second, _ = _make(lead)
    water = lead.entry("water", {"volume_l": 9}, {"bed": first})
    lead.sync([water])
    _read(app, lead.garden)
    details = {"entry": water["id"], "kind": "water", "restated": {"volume_l": 9}}
    lead.sync([lead.entry("correct", details, {"bed": second})])
    assert _kept(app, lead.garden) == set()
    assert _read(app, lead.garden) == _anew(lead)
    lead.sync([lead.entry("void", {"entry": water["id"]})])
    assert _kept(app, lead.garden) == set()
    assert _read(app, lead.garden) == _anew(lead)


def test_hiding_a_bed_takes_its_findings_away_and_back(app: Flask, lead: Phone) -> None:
    bed, _ = _make(lead)
    before = _read(app, lead.garden)
    void = lead.entry("void", {"entry": bed})
    lead.sync([void])
    assert _read(app, lead.garden) == _anew(lead)
    assert not [one for one in _read(app, lead.garden) if str(one["key"]).find("/bed:") > 0]
    made = next(one for one in lead.sync()["entries"] if one["id"] == bed)
    details = {"entry": bed, "kind": "bed", "restated": made["details"]}
    lead.sync([lead.entry("correct", details, {"bed": bed})])
    assert _read(app, lead.garden) == _anew(lead)
    assert [one["key"] for one in _read(app, lead.garden)] == [one["key"] for one in before]


def test_findings_are_worked_out_again_after_ten_minutes_and_on_another_day(
    app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    bed, _ = _make(lead)
    _read(app, lead.garden)
    with _computed(monkeypatch) as groups:
        _read(app, lead.garden, Moment(TODAY, AT.now_s + KEPT_SECONDS))
        assert groups == []
        later = Moment(TODAY, AT.now_s + KEPT_SECONDS + 1)
        assert _read(app, lead.garden, later) == _anew(lead, later)
        tomorrow = Moment(TODAY + 1, AT.now_s + 86_400)
        assert _read(app, lead.garden, tomorrow) == _anew(lead, tomorrow)
        assert groups == [bed, bed]


def test_what_is_kept_of_older_days_and_other_rulebooks_is_dropped(app: Flask, lead: Phone) -> None:
    _make(lead)
    _read(app, lead.garden)
    with app.app_context():
        changed = {**load_rulebook(), "digest": "0" * 64}
        standing_of_garden(lead.garden, changed, AT)
        digests = set(db.session.scalars(select(Standing.digest)))
        assert digests == {"0" * 64}
        standing_of_garden(lead.garden, changed, Moment(TODAY + 2, AT.now_s + 2 * 86_400))
        assert set(db.session.scalars(select(Standing.today))) == {TODAY + 2}


def test_findings_worked_out_while_the_log_moves_are_not_kept(
    app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, planting = _make(lead)
    original = records_standing._findings_of_group
    late = lead.entry("pick", {"count": 1}, {"planting": planting})

    def slow(*given):  # type: ignore[no-untyped-def]
        found = original(*given)
        lead.sync([late])
        return found

    with monkeypatch.context() as patched:
        patched.setattr(records_standing, "_findings_of_group", slow)
        _read(app, lead.garden)
    assert _kept(app, lead.garden) == set()
    assert _read(app, lead.garden) == _anew(lead)


def test_homes_and_neighbours_rebuilt_from_the_log_equal_those_kept(
    app: Flask, lead: Phone, clock: Clock
) -> None:
    first, planting = _make(lead)
    second, _ = _make(lead, beside=[first])
    lone = lead.planting(None, variety="long red")
    lead.sync([lone, lead.entry("transplant", {}, {"bed": second, "planting": planting})])
    renamed = lead.entry("bed", {"name": "South", "beside": None}, {"bed": second})
    lead.sync([renamed])

    def derived() -> tuple[list[object], list[object]]:
        homes = db.session.execute(
            select(Home.subject_id, Home.bed_id, Home.crop, Home.name).order_by(Home.subject_id)
        ).all()
        beside = db.session.execute(select(Neighbour.bed_id, Neighbour.other_id)).all()
        return list(homes), list(beside)

    with app.app_context():
        kept = derived()
        assert (second, second, None, "South") in kept[0]
        assert (planting, second, "pepper", None) in kept[0]
        assert (lone["id"], None, "pepper", "long red") in kept[0]
        entries = lead.sync()["entries"]
        beds = {one["subjects"]["bed"] for one in entries if one["kind"] == "bed"}
        plantings = {one["id"] for one in entries if one["kind"] == "planting"}
        db.session.execute(delete(Home))
        db.session.execute(delete(Neighbour))
        update_homes(db.session(), lead.garden, beds, plantings)
        assert derived() == kept
        db.session.rollback()


def test_only_weather_that_a_rule_may_look_at_is_read_from_the_log(
    app: Flask, lead: Phone, clock: Clock
) -> None:
    """What happened long ago is left out, unless it was corrected since."""
    bed, _ = _make(lead)
    rain = {"depth_mm": 20}
    old, mended = lead.entry("rain", rain), lead.entry("rain", rain)
    later = lead.entry("rain", rain, happened_at="2027-06-20T07:40:00+02:00")
    named = lead.entry("garden", {"name": "Old garden"})
    lead.sync([old, mended, later, named])
    today = TODAY + LONG_AGO_DAYS + 3
    clock.ms += (LONG_AGO_DAYS + 3) * 86_400_000
    at = "2027-07-09T07:40:00+02:00"
    details = {"entry": mended["id"], "kind": "rain", "restated": rain}
    fresh = lead.entry("rain", rain, happened_at=at)
    lead.sync([fresh, lead.entry("correct", details, happened_at=at)])
    with app.app_context():
        group = next(one for one in all_groups(db.session(), lead.garden) if one.bed == bed)
        read = ledger_of_bed_group(db.session(), lead.garden, group, load_rulebook(), today)
        seen = {mended["id"], later["id"], fresh["id"]}
        assert {one["id"] for one in read.weather()} == seen
        assert read.settings() == {"name": "Old garden"}
    moment = Moment(today, clock.ms // 1000)
    assert _read(app, lead.garden, moment) == _anew(lead, moment)


def test_rain_corrected_from_a_bed_to_the_garden_waters_every_bed(app: Flask, lead: Phone) -> None:
    first, _ = _make(lead)
    _make(lead)
    at = "2026-06-01T07:40:00+02:00"
    rain = lead.entry("rain", {"depth_mm": 20}, {"bed": first}, happened_at=at)
    lead.sync([rain])
    before = _read(app, lead.garden)
    details = {"entry": rain["id"], "kind": "rain", "restated": {"depth_mm": 20}}
    lead.sync([lead.entry("correct", details, {}, happened_at=at)])
    after = _read(app, lead.garden)
    assert after == _anew(lead)
    dry, wet = ([one for one in found if one["rule"] == "water_gap"] for found in (before, after))
    assert len(wet) < len(dry)


def test_spray_on_a_bed_or_a_planting_reaches_where_plants_stood_and_stand(
    app: Flask, lead: Phone
) -> None:
    old, planting = _make(lead)
    new, _ = _make(lead)
    idle, _ = _make(lead)
    lead.sync([lead.entry("transplant", {}, {"bed": new, "planting": planting})])
    label = {"method": "product", "operator": "A", "hours_to_reentry": 2000, "days_to_harvest": 90}
    for subjects in ({"bed": old}, {"planting": planting}):
        _read(app, lead.garden)
        at = "2026-05-20T09:00:00+02:00"
        lead.sync([lead.entry("treat", label, subjects, happened_at=at)])
        assert _kept(app, lead.garden) == {idle}
        found = _read(app, lead.garden)
        assert found == _anew(lead)
        blocked = {str(one["key"]).split("/")[0] for one in found if one["state"] == "blocked"}
        assert blocked >= {"harvest_wait", "reentry_wait"}


def test_a_question_about_one_bed_works_out_that_bed_alone(
    app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    bed, _ = _make(lead)
    other, _ = _make(lead)
    with _computed(monkeypatch) as groups, app.app_context():
        asked = standing_of_garden(lead.garden, load_rulebook(), AT, bed=bed).findings
    assert groups == [bed]
    assert _kept(app, lead.garden) == {bed}
    assert asked == [one for one in _anew(lead) if one["subject"].get("bed") == bed]
    assert asked
    assert bed != other
