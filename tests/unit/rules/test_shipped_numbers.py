"""The numbers that ship, each as it was asked for: a slip in a row must not pass as a choice.

All are common practice without a source, but for the spans of a label, which the label gives.
"""

from typing import Any

import pytest

from shedbook.rules.rulebook import load_rulebook

SHIPPED: list[tuple[str, str, Any]] = [
    ("side_dress", "due_after_days", [28, 56]),
    ("scout_weekly", "every_days", 7),
    ("scout_weekly_sown", "every_days", 7),
    ("soap_again", "every_days", 2),
    ("soap_again", "closes_after_days", 1),
    ("soap_again", "lasts_days", 14),
    ("rotation_rest", "years", 3),
    ("water_gap", "due_after_hours", 72),
    ("water_gap", "closes_after_hours", 96),
    ("water_gap_container", "due_after_hours", 24),
    ("water_gap_container", "closes_after_hours", 36),
    ("even_water", "window_days", 28),
    ("even_water", "min_gaps", 3),
    ("even_water", "limit_longest_gap_hours", 120),
    ("even_water", "limit_cv", 0.6),
    ("even_water", "morning_before_hour", 10),
    ("harvest_wait", "span", {"field": "days_to_harvest", "unit": "day"}),
    ("reentry_wait", "span", {"field": "hours_to_reentry", "unit": "hour"}),
    ("harvest_wait", "blocks", ["pick"]),
    ("reentry_wait", "blocks", "hand_work"),
    ("reentry_wait", "unknown_lasts_days", 90),
]


@pytest.mark.parametrize(("rule", "param", "value"), SHIPPED, ids=str)
def test_a_shipped_number_is_the_one_that_was_asked_for(rule: str, param: str, value: Any) -> None:
    params = {one["id"]: one["params"] for one in load_rulebook()["rules"]}
    assert params[rule][param] == value


def test_hand_work_leaves_out_water_and_what_is_done_with_the_eyes() -> None:
    hand_work = set(load_rulebook()["hand_work"])
    assert {"pick", "prune", "stake", "weed", "feed", "transplant", "remove_plant"} <= hand_work
    assert not {"water", "rain", "note", "decline", "correct", "void"} & hand_work
