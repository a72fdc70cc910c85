"""What no case alone can show of sums that grow: they never shrink, and warmth never delays."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.rules.evaluate import evaluate
from shedbook.rules.rows import load_rows
from shedbook.rules.rows.check import RowError
from shedbook.rules.rows.heat import MODES
from shedbook.rules.rulebook import build_rulebook

ROWS = load_rows()
DAY_S = 86_400
START = 20_574
DAYS = 40
MILESTONES = [
    {"name": "first_spring_moths", "sum_c_days": 60},
    {"name": "first_spring_eggs", "sum_c_days": 140},
    {"name": "most_spring_moths", "sum_c_days": 260},
]
CHANGE = {
    "biofix": {"kind": "transplant"},
    "milestones": MILESTONES,
    "told_for_days": 400,
    "most_missing_days": 4,
}


def rulebook_of(rule: str, **change: Any) -> dict[str, Any]:
    return build_rulebook({rule: ROWS[rule] | change})


BORER = rulebook_of("corn_borer_dates", **CHANGE)
SEEDLINGS = rulebook_of("emergence")

readings = st.lists(
    st.one_of(st.none(), st.tuples(st.integers(-5, 25), st.integers(0, 20))),
    min_size=DAYS,
    max_size=DAYS,
)


def an_event(kind: str, day: int, **details: Any) -> dict[str, Any]:
    instant = day * DAY_S + 43_200
    return {
        "id": f"{kind}-{day}",
        "kind": kind,
        "day": day,
        "hour": 12,
        "minute": 0,
        "instant": instant,
        "order": f"{instant:012x}0000",
        "details": details,
    }


def view_of(events: list[dict[str, Any]], **planting: Any) -> dict[str, Any]:
    made = {"id": "p1", "hidden": False, "removed": {}, "standing": True, "crop": "pepper"}
    made |= {"bed": "b1", "from_day": START, "transplanted_day": START} | planting
    return {
        "kind": "planting",
        "subject": {"bed": "b1", "planting": "p1"},
        "bed": {"id": "b1", "hidden": False},
        "planting": made,
        "settings": {"region": "na_midwest", "latitude_deg": 43},
        "events": events,
        "residents": [made],
        "neighbours": [],
    }


def air(read: list[tuple[int, int] | None], warmer: int = 0) -> list[dict[str, Any]]:
    """A transplanting and the days that were read, each perhaps warmer."""
    out = an_event("transplant", START) | {"planting": "p1", "bed": "b1"}
    days = [
        an_event("air_temperature", START + at, low_c=one[0] + warmer, high_c=sum(one) + warmer)
        for at, one in enumerate(read)
        if one is not None
    ]
    return [out, *days]


def reached(events: list[dict[str, Any]], today: int) -> dict[str, int]:
    """The day on which each milestone was reached, as it is told on a day."""
    known = [event for event in events if event["day"] <= today]
    found = evaluate(view_of(known), BORER, today, today * DAY_S + 64_800)
    return {made["key"]: made["due"] for made in found if made["state"] == "noted"}


@given(readings)
@settings(max_examples=40, deadline=None)
def test_a_later_day_never_takes_back_what_was_reached(read: list[tuple[int, int] | None]) -> None:
    events = air(read)
    told: dict[str, int] = {}
    for today in range(START + 1, START + DAYS + 30, 3):
        now = reached(events, today)
        assert told.items() <= now.items()
        told = now


@given(readings, st.integers(1, 12))
@settings(max_examples=60, deadline=None)
def test_warmer_days_never_delay_what_is_reached(
    read: list[tuple[int, int] | None], warmer: int
) -> None:
    today = START + DAYS
    cool, warm = reached(air(read), today), reached(air(read, warmer), today)
    for key, day in cool.items():
        assert warm[key] <= day


@given(st.lists(st.integers(15, 30), min_size=20, max_size=20), st.integers(0, 5))
@settings(max_examples=60, deadline=None)
def test_soil_that_is_warmer_up_to_the_best_never_delays_seedlings(
    temps: list[int], warmer: int
) -> None:
    def expected(more: int) -> int:
        sow = an_event("sow", START, place="tray") | {"planting": "p1"}
        events = [sow]
        for at, temp in enumerate(temps):
            warm = min(temp + more, 30)
            read = an_event("soil_temperature", START + at, temperature_c=warm)
            events.append(read | {"planting": "p1"})
        view = view_of(events, from_day=None, transplanted_day=None)
        view["planting"] = {key: one for key, one in view["planting"].items() if one is not None}
        (made,) = evaluate(view, SEEDLINGS, START + 20, (START + 20) * DAY_S + 64_800)
        return int(made["due"])

    assert expected(warmer) <= expected(0)


@pytest.mark.parametrize(
    ("rule", "change", "param"),
    [
        ("emergence", {"of": "hatching"}, "of"),
        ("frost_tonight", {"of": "emergence"}, "of"),
        ("corn_borer_dates", {"biofix": {"month_day": "13-01"}}, "biofix"),
        ("corn_borer_dates", {"biofix": {"kind": "moon"}}, "kind"),
        ("corn_borer_dates", {"method": "guess"}, "method"),
        ("corn_borer_dates", {"milestones": []}, "milestones"),
        ("corn_borer_dates", {"milestones": [{"name": "moths"}]}, "milestones"),
        (
            "corn_borer_dates",
            {"milestones": [{"name": "moths", "sum_f_days": 9, "sum_c_days": 5}]},
            "milestones",
        ),
        ("corn_borer_dates", {"lower_c": 10}, "lower_c"),
    ],
    ids=str,
)
def test_row_with_a_slip_is_refused_by_name(rule: str, change: dict[str, Any], param: str) -> None:
    with pytest.raises(RowError) as refused:
        rulebook_of(rule, **change)
    assert refused.value.param == param


NEEDED = [
    (rule, param)
    for rule, row in ROWS.items()
    if row["shape"] in MODES
    for param in MODES[row["shape"]][row["of"]]
]


@pytest.mark.parametrize(("rule", "param"), NEEDED, ids=str)
def test_row_that_lacks_what_its_mode_reads_is_refused_by_name(rule: str, param: str) -> None:
    row = {name: value for name, value in ROWS[rule].items() if name != param}
    with pytest.raises(RowError) as refused:
        build_rulebook({rule: row})
    assert refused.value.param == param
