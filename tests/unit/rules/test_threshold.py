"""Values against limits: what the corpus can't show, and what must hold for any value."""

import copy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.rules.evaluate import evaluate
from shedbook.rules.rows import load_rows
from shedbook.rules.rows.check import RowError, check_row
from shedbook.rules.rulebook import load_rulebook
from shedbook.words import load_words
from tests.unit.rules.twin import as_json, ask_phone, corpus

ROWS = {name: row for name, row in load_rows().items() if row["shape"] == "threshold"}
BOUNDS = ("at_least", "at_most", "better_at_least", "better_at_most")
FLOOR, NOW = 15, "sow_soil_warm/planting:p1/now"


def a_case(name: str) -> dict[str, Any]:
    """The case of the corpus with this name, to be changed."""
    return copy.deepcopy(next(case for case in corpus("threshold") if case["name"] == name))


def readings(case: dict[str, Any], *values: float) -> dict[str, Any]:
    """The case with its one reading replaced by several, one a day, the last one latest."""
    (first,) = case["view"]["events"]
    case["view"]["events"] = [
        first
        | {
            "id": f"r{at}",
            "day": first["day"] - len(values) + 1 + at,
            "instant": first["instant"] + (1 - len(values) + at) * 86_400,
            "details": {"temperature_c": value},
        }
        for at, value in enumerate(values)
    ]
    return case


def answer(case: dict[str, Any]) -> list[dict[str, Any]]:
    """What the shed finds, which the phone must find too."""
    found = as_json(evaluate(case["view"], case["rulebook"], case["today"], case["now"]))
    assert ask_phone([case]) == [found]
    return found


@pytest.mark.parametrize(("pick", "value"), [("mean", 14.5), ("highest", 16), ("lowest", 12)])
def test_a_window_of_readings_gives_its_mean_or_an_end(pick: str, value: float) -> None:
    case = readings(a_case("a reading of five days ago counts"), 16, 15.5, 12)
    case["today"] -= 2
    case["rulebook"]["rules"][0]["params"]["value"]["pick"] = pick
    (found,) = answer(case)
    assert found["message"]["values"]["value"] == value
    assert len(found["entries"]) == (3 if pick == "mean" else 1)


@given(st.floats(-20, 60), st.floats(0, 15))
@settings(max_examples=60, deadline=None)
def test_a_warmer_soil_never_turns_enough_into_too_cold(value: float, more: float) -> None:
    case = a_case("a reading of five days ago counts")
    keys = []
    for reading in (value, value + more):
        held = readings(copy.deepcopy(case), reading)
        (found,) = evaluate(held["view"], held["rulebook"], held["today"], held["now"])
        keys.append(found["message"]["key"])
    is_low = [key == "threshold.low_c" for key in keys]
    assert is_low[0] == (value < FLOOR)
    assert is_low[0] or not is_low[1]


@pytest.mark.parametrize("rule_id", ROWS)
def test_every_answer_that_a_row_can_give_has_its_words(rule_id: str) -> None:
    row, words = ROWS[rule_id], load_words()
    says = row.get("says", "threshold")
    needed = {f"reason.note.{name}" for name in row.get("notes", [])}
    if row.get("asks"):
        needed |= {f"message.{says}.unknown", "reason.threshold.missing"}
    if "is_not" in row:
        needed.add(f"message.{says}.flagged")
    told = {"at_least": "low", "at_most": "high"}
    told |= {"better_at_least": "short", "better_at_most": "over"}
    for name in BOUNDS:
        if name in row or f"{name}_of_crop" in row:
            needed.add(f"message.{says}.{told[name]}_{row['unit']}")
            needed.add(f"reason.threshold.{name}_{row['unit']}")
    if "unit" in row:
        needed.add(f"reason.threshold.{row['value'].get('pick', 'written')}_{row['unit']}")
    if "gate" in row and "unit" in row:
        needed.add(f"message.{says}.met_{row['unit']}")
    assert needed <= set(words)


@pytest.mark.parametrize(
    ("rule_id", "change", "param"),
    [
        ("sow_soil_warm", {"unit": "furlong"}, "unit"),
        ("sow_soil_warm", {"is_not": ["cold"]}, "is_not"),
        ("sow_soil_warm", {"value": {"pick": "latest", "of": []}}, "value"),
        ("sow_soil_warm", {"value": {"own_field": "soil_c"}}, "at"),
        ("sow_soil_warm", {"gate": {"day_of": ["someday"]}}, "gate"),
        ("sown_in_cold_soil", {"gate": ROWS["sow_soil_warm"]["gate"]}, "gate"),
        ("seed_bath_form", {"is_not": []}, "is_not"),
        ("room_in_row", {"value": {"planting_field": "x", "bed_field": "y"}}, "value"),
    ],
)
def test_a_row_whose_parts_do_not_fit_is_refused(
    rule_id: str, change: dict[str, Any], param: str
) -> None:
    with pytest.raises(RowError) as refused:
        check_row(rule_id, ROWS[rule_id] | change)
    assert refused.value.param == param


def test_both_floors_of_pepper_seed_are_told() -> None:
    rules = {rule["id"]: rule for rule in load_rulebook()["rules"]}
    assert "pepper_floors" in rules["sow_soil_warm"]["params"]["notes"]
    told = load_words()["reason.note.pepper_floors"]
    assert "12.7 °C" in told
    assert "15.6 °C" in told
