"""No entry on a phone keeps the garden from opening, and none that is left out is passed over."""

from __future__ import annotations

from typing import Any

import pytest

from shedbook.rules.rulebook import load_rulebook
from tests.builders import BED, PLANTING, a_bed, a_planting, an_entry, an_id
from tests.unit.client.garden import NOW, stand

GARDEN = [a_bed(), a_planting(), an_entry("transplant", id=an_id(50))]
POISONS: dict[str, dict[str, Any]] = {
    "no-moment": an_entry("note", id=an_id(60), happened_at="yesterday"),
    "plants-no-list": an_entry("pick", id=an_id(60), subjects={"planting": PLANTING, "plants": 5}),
    "plants-null": an_entry("zap", id=an_id(60), subjects={"plants": None}),
    "no-subjects": {**an_entry("water", id=an_id(60)), "subjects": None},
    "no-details": {**an_entry("void", id=an_id(60)), "details": None},
    "beside-no-list": an_entry("bed", id=an_id(60), details={"name": "Odd", "beside": 5}),
    "ended-on-no-day": an_entry(
        "planting", id=an_id(60), subjects={"planting": PLANTING}, details={"ended_on": "soon"}
    ),
    "no-version": an_entry("note", id=an_id(60), version="one"),
}


@pytest.mark.parametrize("poison", POISONS.values(), ids=POISONS)
@pytest.mark.parametrize("is_later", [False, True], ids=["at-start", "taken-in-later"])
def test_entry_that_cannot_be_folded_is_named_and_the_others_stand(
    poison: dict[str, Any], is_later: bool
) -> None:
    good = an_entry("pick", id=an_id(61))
    entries, later = ([*GARDEN, good], [poison]) if is_later else ([poison, *GARDEN, good], [])
    told = stand(entries, later=later)
    assert told["beds"][:1] == ["Bed 1"]
    assert {an_id(50), good["id"]} <= set(told["events"])
    assert told["faulty"] == [poison["id"]]


@pytest.mark.parametrize("after", [an_id(61), an_id(90)], ids=["by-itself", "after-another"])
@pytest.mark.parametrize("is_later", [False, True], ids=["at-start", "taken-in-later"])
def test_entry_at_which_the_ledger_breaks_down_is_left_out_and_the_others_stand(
    after: str, is_later: bool
) -> None:
    odd, good = an_entry("pick", id=an_id(61)), an_entry("pick", id=an_id(62))
    first = [*GARDEN, an_entry("pick", id=an_id(90)), good]
    entries, later = (first, [odd]) if is_later else ([*first, odd], [])
    told = stand(entries, later=later, break_at={"entry": odd["id"], "after": after})
    assert told["events"] == [an_id(50), good["id"], an_id(90)]
    assert told["faulty"] == [odd["id"]]


def test_entry_that_only_another_makes_unfit_is_the_one_left_out() -> None:
    treat = an_entry("treat", id=an_id(62))
    poison = an_entry(
        "void", id=an_id(60), subjects={}, details={"entry": treat["id"]}, happened_at="never"
    )
    told = stand([*GARDEN, treat, poison], ask=[["pick", {"planting": PLANTING}]])
    assert poison["id"] in told["untold"]
    assert told["withheld"][0]["state"] in ("blocked", "unknown")


def test_what_the_rules_have_not_reached_yet_is_unknown_and_never_free() -> None:
    treat = an_entry("treat", id=an_id(62), details={"method": "product", "days_to_harvest": 9})
    asked = [["pick", {"planting": PLANTING}], ["pick", {"bed": BED}]]
    states = [
        [one["state"] for one in stand([*GARDEN, treat], ask=asked, is_early=is_early)["withheld"]]
        for is_early in (True, False)
    ]
    assert states == [["unknown", "unknown"], ["blocked", "blocked"]]


def test_rule_that_breaks_down_makes_work_there_unknown_and_leaves_other_beds_alone() -> None:
    other = a_bed(id=an_id(70), name="Other")
    tomato = a_planting(id=an_id(71), bed=other["id"], crop="tomato")
    # Without its anchor the shape has nothing to count from.
    odd = {"id": "odd", "shape": "once_after", "subject": "planting", "crops": ["pepper"]}
    rulebook = load_rulebook()
    asked = [["pick", {"planting": PLANTING}], ["pick", {"bed": BED}], ["pick", {"bed": an_id(70)}]]
    told = stand(
        [*GARDEN, other, tomato],
        rulebook=rulebook | {"rules": [*rulebook["rules"], odd]},
        ask=asked,
    )
    assert told["broken"] == [f"planting:{PLANTING}"]
    assert [one["state"] for one in told["withheld"]] == ["unknown", "unknown", "none_known"]


@pytest.mark.parametrize(
    ("subjects", "concerns"),
    [
        ({"bed": BED}, True),
        ({"planting": PLANTING}, True),
        ({}, True),
        ({"bed": an_id(70)}, False),
    ],
    ids=["its-bed", "itself", "no-place", "another-bed"],
)
@pytest.mark.parametrize("how", ["newer", "set_aside", "refused", "corrected"])
def test_treatment_that_is_in_no_reckoning_leaves_work_there_unknown(
    how: str, subjects: dict[str, Any], concerns: bool
) -> None:
    treat = an_entry("treat", id=an_id(60), subjects=subjects)
    more: dict[str, Any] = {"entries": GARDEN}
    if how == "newer":
        more["entries"] = [*GARDEN, treat | {"version": 9}]
    elif how == "corrected":
        restated = {"entry": an_id(59), "kind": "treat", "restated": treat["details"]}
        correct = treat | {"kind": "correct", "details": restated}
        more["attention"] = [{"id": correct["id"], "result": "set_aside", "entry": correct}]
    else:
        more["attention"] = [{"id": treat["id"], "result": how, "entry": treat}]
    asked = [["pick", {"planting": PLANTING}], ["prune", {"bed": BED}]]
    told = stand(**more, ask=asked)
    expected = ("unknown", [treat["id"]]) if concerns else ("none_known", None)
    assert [(one["state"], one.get("uncounted")) for one in told["withheld"]] == [expected] * 2
    assert told["faulty"] == []


def test_treatment_set_aside_and_mended_is_counted_by_its_mending_alone() -> None:
    bad = an_entry("treat", id=an_id(60))
    row = {"id": bad["id"], "result": "set_aside", "mended_by": an_id(61), "entry": bad}
    told = stand(GARDEN, attention=[row], ask=[["pick", {"planting": PLANTING}]])
    assert told["withheld"][0]["state"] == "none_known"


def test_known_at_is_read_in_a_garden_whose_settings_are_odd() -> None:
    odd = an_entry("setting", id=an_id(60), subjects={}, details={"stale_after_hours": "x"})
    day_old = NOW - 25 * 3600
    told = stand([*GARDEN, odd], known_at=day_old, ask=[["pick", {"planting": PLANTING}]])
    assert told["withheld"][0]["state"] == "unknown"
