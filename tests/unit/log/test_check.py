"""What is refused, what is set aside, and what is only remarked on."""

import math
import time
from typing import Any

import pytest

from shedbook.log.check import check_entry
from shedbook.log.describe import describe_kind
from shedbook.log.kinds import KINDS
from shedbook.log.moment import moment_text
from shedbook.log.subjects import LARGEST_NUMBER
from tests.builders import BED, PLANTING, START, a_bed, a_planting, an_entry, an_id
from tests.log_twin import ask_phone

NESTED_8: Any = {"1": {"2": {"3": {"4": {"5": {"6": {"7": [8]}}}}}}}


def problems_of(kind: str, details: dict[str, Any], **given: Any) -> dict[str, list[str]]:
    return check_entry(an_entry(kind, details=details, **given)).problems


@pytest.mark.parametrize(
    ("broken", "path"),
    [
        ({"id": "7"}, "id"),
        ({"id": an_id(7).upper()}, "id"),
        ({"garden": None}, "garden"),
        ({"notebook": 5}, "notebook"),
        ({"number": 0}, "number"),
        ({"number": True}, "number"),
        ({"number": 1.0}, "number"),
        ({"number": LARGEST_NUMBER + 1}, "number"),
        ({"details": {"mass_g": math.nan}}, "details.mass_g"),
        ({"details": {"x": [math.inf]}}, "details.x.0"),
        ({"details": {"x": 2**53}}, "details.x"),
        ({"details": {"x": 10**400}}, "details.x"),
        ({"details": {"note": "a\x00b"}}, "details.note"),
        ({"details": {"note": "\ud83c"}}, "details.note"),
        ({"details": {"\udf36": 1}}, "details"),
        ({"later": {"x": "\x00"}}, "later.x"),
        ({"details": {"x": {"0": NESTED_8}}}, "details.x.0.1.2.3.4.5.6.7"),
    ],
)
def test_entry_that_cannot_be_stored_under_a_number_is_unreadable(
    broken: dict[str, Any], path: str
) -> None:
    for kind in ("pick", "moonlight"):
        checked = check_entry(an_entry(kind) | broken)
        assert list(checked.unreadable) == [path]
        assert not checked.is_accepted


@pytest.mark.parametrize("raw", [None, [], "entry", 5])
def test_what_is_no_object_is_unreadable(raw: object) -> None:
    assert check_entry(raw).unreadable == {"": ["Must be an entry: a set of names with values."]}


def test_details_nested_eight_deep_are_read() -> None:
    assert check_entry(an_entry(details={"count": 1, "x": NESTED_8})).is_accepted


@pytest.mark.parametrize(
    ("broken", "path"),
    [
        ({"kind": "Pick"}, "kind"),
        ({"version": 0}, "version"),
        ({"clock": "0"}, "clock"),
        ({"happened_at": "2026-06-01T07:40:00Z"}, "happened_at"),
        ({"happened_at": 5}, "happened_at"),
        ({"recorded_at": "2026-06-31T07:40:00+02:00"}, "recorded_at"),
        ({"device": "phone"}, "device"),
        ({"person": 4}, "person"),
        ({"mends": "it"}, "mends"),
        ({"answers": ""}, "answers"),
        ({"answers": "x" * 201}, "answers"),
        ({"answers": 7}, "answers"),
        ({"subjects": []}, "subjects"),
        ({"details": "5 kg"}, "details"),
        ({"details": {"count": 1, "x": ["y" * 4001]}}, "details.x.0"),
    ],
)
def test_entry_with_a_number_but_a_broken_part_is_set_aside_with_the_path(
    broken: dict[str, Any], path: str
) -> None:
    checked = check_entry(an_entry() | broken)
    assert checked.unreadable == {}
    assert list(checked.problems) == [path]


@pytest.mark.parametrize("name", ["kind", "version", "clock", "happened_at", "recorded_at"])
def test_entry_without_a_part_is_set_aside_by_that_name(name: str) -> None:
    entry = an_entry()
    del entry[name]
    assert list(check_entry(entry).problems) == [name]


@pytest.mark.parametrize(
    ("kind", "details", "path", "text"),
    [
        ("water", {"volume_l": -1}, "volume_l", "Must be between 0.01 and 100000 L."),
        ("water", {"volume_l": "20"}, "volume_l", "Must be a number."),
        ("water", {"volume_l": True}, "volume_l", "Must be a number."),
        ("water", {"volume_l": None}, "volume_l", "Must not be empty. Leave it out instead."),
        ("feed", {"n_percent": 101}, "n_percent", "Must be between 0 and 100 %."),
        ("pick", {"count": 2.5}, "count", "Must be a whole number."),
        ("pick", {"count": 1, "grade": "best"}, "grade", "Must be one of: first, second, cull."),
        ("emerge", {"count": -1}, "count", "Must be between 0 and 100000."),
        ("stage", {"first_bloom": 1}, "first_bloom", "Must be yes or no (true or false)."),
        ("rain", {}, "depth_mm", "This is needed."),
        ("note", {"text": ""}, "text", "Must be 1 to 4000 characters long."),
        (
            "scout",
            {"organism": "aphids", "plants_looked": 10, "plants_affected": 11},
            "plants_affected",
            "Must not be more than the plants looked at.",
        ),
        (
            "scout",
            {"organism": "aphids", "plants_affected": 1},
            "plants_looked",
            "How many plants were looked at is needed beside the affected ones.",
        ),
        (
            "air_temperature",
            {"low_c": 9, "high_c": 8.5},
            "low_c",
            "Must not be above the highest temperature.",
        ),
        (
            "treat",
            # Ten in the morning at +03:00 is an hour before nine at +01:00.
            {
                "method": "product",
                "started_at": "2026-06-01T09:00:00+01:00",
                "ended_at": "2026-06-01T10:00:00+03:00",
            },
            "started_at",
            "Must not be after the end.",
        ),
    ],
)
def test_wrong_details_are_a_problem_that_says_what_would_be_right(
    kind: str, details: dict[str, Any], path: str, text: str
) -> None:
    assert problems_of(kind, details) == {f"details.{path}": [text]}


def test_details_with_none_of_several_ways_to_say_it_are_a_problem_of_the_whole() -> None:
    assert problems_of("water", {"method": "drip"}) == {
        "details": ["Write down litres, or millimetres, or minutes."]
    }


@pytest.mark.parametrize(
    ("kind", "details"),
    [
        ("setting", {"last_frost": "02-30"}),
        ("setting", {"walk_order": [BED, BED]}),
        ("setting", {"thresholds": {"side_dress.due_after_days": "30"}}),
        ("setting", {"crops": {"My Crop": {}}}),
        ("bed", {"name": "A", "retired_on": "2026-6-1"}),
        ("bed", {"name": "A", "beside": ["north"]}),
    ],
)
def test_wrong_shapes_in_places_are_problems(kind: str, details: dict[str, Any]) -> None:
    assert len(problems_of(kind, details)) == 1


def test_field_of_a_bed_may_be_cleared_but_a_figure_of_work_may_not() -> None:
    assert problems_of("bed", {"name": None, "length_m": None}) == {}
    assert problems_of("pick", {"count": 1, "mass_g": None}) != {}


@pytest.mark.parametrize("cleared", ["wilting_point_percent", "field_capacity_percent"])
def test_a_cleared_field_is_above_nothing(cleared: str) -> None:
    details = {"wilting_point_percent": 12, "field_capacity_percent": 30, cleared: None}
    assert problems_of("bed", details) == {}
    asked = {"kind": describe_kind(KINDS["bed"]), "subjects": {"bed": BED}, "details": details}
    (told,) = ask_phone([{"ask": "check", **asked}])
    assert told["problems"] == {}


@pytest.mark.parametrize(
    ("kind", "subjects", "path"),
    [
        ("pick", {"bed": BED}, "subjects.planting"),
        ("pick", {"planting": PLANTING, "plants": []}, "subjects.plants"),
        ("pick", {"planting": PLANTING, "plants": [1, 1]}, "subjects.plants"),
        ("pick", {"planting": PLANTING, "plants": [0]}, "subjects.plants"),
        ("pick", {"planting": "south"}, "subjects.planting"),
        ("water", {}, "subjects"),
        ("water", {"bed": BED, "plants": [1]}, "subjects.plants"),
        ("rain", {"planting": PLANTING}, "subjects.planting"),
        ("garden", {"bed": BED}, "subjects.bed"),
        ("plant", {"planting": PLANTING}, "subjects.plants"),
    ],
)
def test_subjects_that_a_kind_cannot_have_are_a_problem(
    kind: str, subjects: dict[str, Any], path: str
) -> None:
    assert list(check_entry(an_entry(kind, subjects=subjects)).problems) == [path]


def test_decline_without_what_it_answers_is_a_problem() -> None:
    assert list(check_entry(an_entry("decline", answers=None)).problems) == ["answers"]


def restating(kind: str, restated: dict[str, Any], **given: Any) -> dict[str, Any]:
    details = {"entry": an_id(90), "kind": kind, "restated": restated}
    return an_entry("correct", details=details, **({"subjects": {"planting": PLANTING}} | given))


@pytest.mark.parametrize(
    ("entry", "path"),
    [
        (restating("pick", {"count": 0}), "details.restated.count"),
        (restating("pick", {}), "details.restated"),
        (restating("pick", {"count": 1}, subjects={"bed": BED}), "subjects.planting"),
        (restating("void", {}), "details.kind"),
        (restating("decline", {"reason": "Rain"}), "answers"),
    ],
    ids=["bad-field", "nothing-said", "lost-subject", "mends-a-mending", "answers-nothing"],
)
def test_correction_must_be_as_good_as_the_entry_it_tells_again(
    entry: dict[str, Any], path: str
) -> None:
    assert list(check_entry(entry).problems) == [path]


def test_correction_of_a_future_kind_is_kept_with_a_remark() -> None:
    checked = check_entry(restating("moonlight", {"lux": 1}))
    assert checked.is_accepted
    assert list(checked.remarks) == ["details.kind"]


@pytest.mark.parametrize(
    ("entry", "path"),
    [
        (an_entry("moonlight", details={"lux": 1}), "kind"),
        (an_entry("pick", version=2, details={"baskets": [1]}), "version"),
        (an_entry("water", details={"volume_l": 2001}), "details.volume_l"),
        (an_entry("soil_temperature", details={"temperature_c": -11}), "details.temperature_c"),
        (an_entry(happened_at="1999-12-31T12:00:00+00:00"), "happened_at"),
        (an_entry(happened_at=moment_text(START + 90_000, 120)), "happened_at"),
        (a_bed(name=None), "details.name"),
        (a_planting(crop=None), "details.crop"),
    ],
    ids=["kind", "version", "above", "below", "long-ago", "ahead", "no-name", "no-crop"],
)
def test_odd_entry_is_accepted_with_a_remark(entry: dict[str, Any], path: str) -> None:
    checked = check_entry(entry, now=START)
    assert checked.is_accepted
    assert list(checked.remarks) == [path]


def test_later_change_of_a_bed_need_not_repeat_its_name() -> None:
    change = an_entry("bed", id=an_id(300), subjects={"bed": BED}, details={"length_m": 4})
    assert check_entry(change).remarks == {}


def test_names_it_does_not_know_are_left_alone() -> None:
    entry = an_entry(details={"count": 1, "basket": {"colour": None}}) | {"weather": [1, None]}
    assert check_entry(entry).is_accepted


def test_check_of_20000_entries_takes_a_few_seconds() -> None:
    entry = an_entry("water", details={"volume_l": 20, "method": "drip"})
    started = time.process_time()
    for _ in range(1000):
        check_entry(entry)
    assert (time.process_time() - started) * 20 < 10


ODD_SUBJECTS = (
    ({"plants": 5}, "subjects.plants"),
    ({"plants": None}, "subjects.plants"),
    ({"plants": [1]}, "subjects.plants"),
    ({"planting": PLANTING, "plants": ["a", 1]}, "subjects.plants"),
    ({"bed": [1]}, "subjects.bed"),
    ({"planting": {}}, "subjects.planting"),
)


@pytest.mark.parametrize(("subjects", "path"), ODD_SUBJECTS)
@pytest.mark.parametrize(("kind", "version"), [("moonlight", 1), ("pick", 2)])
def test_kind_or_version_that_is_not_known_may_not_name_places_in_a_form_that_none_reads(
    kind: str, version: int, subjects: dict[str, Any], path: str
) -> None:
    entry = an_entry(kind, version=version, subjects=subjects, details={"lux": 1})
    assert list(check_entry(entry).problems) == [path]


def test_zone_that_the_shed_does_not_know_is_set_aside_also_when_it_is_a_correction() -> None:
    assert problems_of("setting", {"zone": "Europe/Madrid"}) == {}
    assert list(problems_of("setting", {"zone": "Mars/Olympus"})) == ["details.zone"]
    told = {"entry": an_id(90), "kind": "setting", "restated": {"zone": "Mars/Olympus"}}
    path = "details.restated.zone"
    assert list(problems_of("correct", told, subjects={})) == [path]
