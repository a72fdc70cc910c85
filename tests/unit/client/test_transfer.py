"""A file of entries brings in those that the phone can read again, and says why not the others."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.builders import GARDEN, PLANTING, a_bed, an_entry, an_id
from tests.unit.client.garden import ask, kinds

UNFIT: dict[str, tuple[dict[str, Any], str, str]] = {
    "moment": ({"happened_at": "yesterday"}, "happened_at", "check.not_a_moment"),
    "writing": ({"recorded_at": "2026-13-01T00:00:00Z"}, "recorded_at", "check.not_a_moment"),
    "clock": ({"clock": "0"}, "clock", "check.not_a_clock"),
    "version": ({"version": 1.5}, "version", "check.not_a_count"),
    "device": ({"device": "d"}, "device", "check.not_an_id"),
    "kind": ({"kind": "Pick!"}, "kind", "check.not_a_kind"),
    "subjects": ({"subjects": []}, "subjects", "check.not_subjects"),
    "details": ({"details": {"count": -1}}, "details.count", "check.between"),
    "plants": (
        {"kind": "zap", "subjects": {"planting": PLANTING, "plants": 5}},
        "subjects.plants",
        "check.not_plants",
    ),
    "newer-plants": (
        {"version": 2, "subjects": {"planting": PLANTING, "plants": ["a"]}},
        "subjects.plants",
        "check.not_plants",
    ),
    "restated": (
        {
            "kind": "correct",
            "details": {"entry": an_id(9), "kind": "pick", "restated": {"count": -1}},
        },
        "details.count",
        "check.between",
    ),
}


def take(lines: list[Any], **more: Any) -> dict[str, Any]:
    texts = [line if isinstance(line, str) else json.dumps(line) for line in lines]
    return ask({"text": "\n".join(texts), "garden": GARDEN, "kinds": kinds(), **more})


@pytest.mark.parametrize(("change", "path", "key"), UNFIT.values(), ids=UNFIT)
def test_line_that_would_stop_the_phone_is_left_out_with_its_reason(
    change: dict[str, Any], path: str, key: str
) -> None:
    bad = an_entry("pick", id=an_id(60)) | change
    good = an_entry("pick", id=an_id(61))
    told = take([bad, "no entry", good])
    assert told["taken"] == [good["id"]]
    assert told["said"] == [[1, path, key], [2, "", "check.not_an_entry"]]


def test_lines_of_another_garden_are_passed_over() -> None:
    other = an_entry("pick", garden=an_id(7))
    assert take([other, "", a_bed()])["taken"] == [a_bed()["id"]]


def test_kind_that_is_not_known_yet_and_a_newer_version_are_taken() -> None:
    new = an_entry("zap", id=an_id(60), details={"volts": 5})
    newer = an_entry("pick", id=an_id(61), version=2, details={"count": {"red": 4}})
    assert take([new, newer]) == {"taken": [new["id"], newer["id"]], "said": []}


def test_line_that_the_person_may_not_write_is_left_out() -> None:
    void = an_entry("void", id=an_id(60))
    told = take([void], barred=[void["id"]])
    assert told == {"taken": [], "said": [[1, "", "notice.ask_lead"]]}
