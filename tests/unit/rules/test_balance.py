"""A bed's water account: what must hold of it whatever the weather and the log."""

import itertools
import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.rules.evaluate import evaluate
from shedbook.rules.match import Context, context_of
from shedbook.rules.rulebook import load_rulebook
from shedbook.rules.water_account import Account, account_of

DAY_S = 86_400
FIRST = 20_600
RULEBOOK = load_rulebook()
RULES = {rule["id"]: rule for rule in RULEBOOK["rules"]}
ONLY_WATER = RULEBOOK | {"rules": [RULES["soil_water"], RULES["container_water"]]}
Json = dict[str, Any]

GROUND = {
    "id": "b1",
    "hidden": False,
    "type": "ground",
    "length_m": 4,
    "width_m": 1.25,
    "soil_texture": "loam",
}
PEPPERS = {"id": "p1", "hidden": False, "removed": {}, "bed": "b1", "crop": "pepper"}


def event(kind: str, day: int, **details: Any) -> Json:
    instant = day * DAY_S + 43_200
    told = {"id": f"{kind}-{day}", "kind": kind, "day": day, "hour": 12, "minute": 0}
    return told | {"instant": instant, "order": "0", "details": details}


def bed_view(events: list[Json], bed: Json | None = None, place: Json | None = None) -> Json:
    return {
        "kind": "bed",
        "subject": {"bed": "b1"},
        "bed": GROUND | (bed or {}),
        "planting": None,
        "settings": {"latitude_deg": 45.7} if place is None else place,
        "events": events,
        "residents": [PEPPERS | {"from_day": FIRST}],
        "neighbours": [],
    }


def at_noon_of(view: Json, day: int) -> Context:
    return context_of(view, RULEBOOK, day, day * DAY_S + 43_200)


def account(events: list[Json], days: int, **more: Any) -> Account:
    """The account on the morning after so many days."""
    told = account_of(at_noon_of(bed_view(events, **more), FIRST + days), RULES["soil_water"])
    assert isinstance(told, Account)
    return told


def weather(air: list[tuple[float, float]], rain: list[float]) -> list[Json]:
    """A thermometer and a gauge that are read on every day."""
    read = [
        event("air_temperature", FIRST + at, low_c=low, high_c=low + more)
        for at, (low, more) in enumerate(air)
    ]
    return read + [event("rain", FIRST + at, depth_mm=depth) for at, depth in enumerate(rain)]


DAYS = 20
air_lists = st.lists(st.tuples(st.floats(-5, 25), st.floats(0, 20)), min_size=DAYS, max_size=DAYS)
rain_lists = st.lists(st.floats(0, 40), min_size=DAYS, max_size=DAYS)
ENDS = ("depletion_mm", "dry_mm", "wet_mm")


@settings(max_examples=30, deadline=None)
@given(air_lists, rain_lists, st.integers(0, DAYS - 1), st.floats(0, 60))
def test_more_rain_never_leaves_the_soil_drier(
    air: list[tuple[float, float]], rain: list[float], day: int, more: float
) -> None:
    wetter = [depth + (more if at == day else 0) for at, depth in enumerate(rain)]
    before = account(weather(air, rain), DAYS).lines[-1]
    after = account(weather(air, wetter), DAYS).lines[-1]
    for end in ENDS:
        assert after[end] <= before[end] + 1e-9


@settings(max_examples=30, deadline=None)
@given(air_lists, rain_lists, st.integers(0, DAYS - 1), st.floats(0.1, 400))
def test_a_watering_never_leaves_the_soil_drier(
    air: list[tuple[float, float]], rain: list[float], day: int, litres: float
) -> None:
    events = weather(air, rain)
    poured = event("water", FIRST + day, volume_l=litres) | {"bed": "b1"}
    before = account(events, DAYS).lines[-1]
    after = account([*events, poured], DAYS).lines[-1]
    for end in ENDS:
        assert after[end] <= before[end] + 1e-9


@settings(max_examples=30, deadline=None)
@given(air_lists, rain_lists)
def test_every_day_of_the_account_adds_up(
    air: list[tuple[float, float]], rain: list[float]
) -> None:
    lines = account(weather(air, rain), DAYS).lines
    assert len(lines) == DAYS + 1
    for before, line in itertools.pairwise(lines):
        came = line["rain_mm"] if line["rain_mm"] >= 0.2 * line["et0_mm"] else 0
        change = line["used_mm"] + line["drained_mm"] - came
        assert abs(before["depletion_mm"] + change - line["depletion_mm"]) < 1e-9
        assert 0 <= line["depletion_mm"] <= line["taw_mm"]


@settings(max_examples=30, deadline=None)
@given(air_lists, rain_lists)
def test_middle_of_the_account_lies_between_its_ends(
    air: list[tuple[float, float]], rain: list[float]
) -> None:
    line = account(weather(air, rain), DAYS).lines[-1]
    shares = [line["wet_mm"] / line["wet_raw_mm"], line["depletion_mm"] / line["raw_mm"]]
    shares.append(line["dry_mm"] / line["dry_raw_mm"])
    assert shares == sorted(shares)


odd_values = st.one_of(
    st.none(),
    st.booleans(),
    st.text(max_size=3),
    st.lists(st.integers(), max_size=2),
    st.sampled_from([0, -1, 1e-9, 0.5, 3, 40, 1e9, 1e308]),
)
details_of = st.dictionaries(
    st.sampled_from(["low_c", "high_c", "depth_mm", "volume_l", "duration_min", "flow_l_per_min"]),
    odd_values,
)
odd_events = st.lists(
    st.tuples(
        st.sampled_from(["air_temperature", "rain", "water"]), st.integers(-3, 25), details_of
    ),
    max_size=12,
)
odd_beds = st.dictionaries(
    st.sampled_from(
        [
            "length_m",
            "width_m",
            "volume_l",
            "across_m",
            "soil_texture",
            "water_method",
            "wetted_percent",
            "field_capacity_percent",
            "wilting_point_percent",
            "flow_l_per_min",
        ]
    ),
    st.one_of(odd_values, st.sampled_from(["drip", "clay"])),
).flatmap(lambda bed: st.sampled_from([bed, bed | {"type": "container"}, bed | {"type": None}]))
odd_places = st.fixed_dictionaries(
    {"latitude_deg": st.one_of(odd_values, st.just(45.7))},
    optional={
        "thresholds": st.dictionaries(
            st.sampled_from(
                [f"soil_water.{name}" for name in RULES["soil_water"]["params"]]
                + [f"container_water.{name}" for name in RULES["container_water"]["params"]]
            ),
            odd_values,
        ),
        "crops": st.fixed_dictionaries(
            {
                "pepper": st.dictionaries(
                    st.sampled_from(
                        ["kc_ini", "kc_end", "stage_days", "root_depth_low_m", "depletion_share"]
                    ),
                    st.one_of(odd_values, st.just([0, 0, 0, 0])),
                )
            }
        ),
    },
)


@settings(max_examples=150, deadline=None)
@given(odd_events, odd_beds, odd_places, st.booleans())
def test_sparse_and_absurd_logs_have_an_answer_too(
    odd: list[tuple[str, int, Json]], bed: Json, place: Json, is_kept: bool
) -> None:
    events = weather([(12, 14)] * 20, [0] * 20) if is_kept else []
    events += [
        event(kind, FIRST + day, **details) | ({"bed": "b1"} if kind == "water" else {})
        for kind, day, details in odd
    ]
    found = evaluate(
        bed_view(events, bed, place), ONLY_WATER, FIRST + 20, (FIRST + 20) * DAY_S + 43_200
    )
    assert found
    json.dumps(found, allow_nan=False)
    assert {made["state"] for made in found} <= {"due", "overdue", "noted", "flagged", "unknown"}


def test_a_later_day_without_water_never_takes_back_that_it_is_overdue() -> None:
    events = weather([(12, 14)] * 40, [30, *[0] * 39])
    states = [
        evaluate(bed_view(events), ONLY_WATER, FIRST + day, (FIRST + day) * DAY_S + 43_200)[0]
        for day in range(2, 40)
    ]
    order = ["noted", "unknown", "due", "overdue"]
    ranks = [order.index(made["state"]) for made in states]
    assert ranks == sorted(ranks)
    assert {0, 3} <= set(ranks)


def test_giving_the_litres_that_it_asks_for_fills_the_bed() -> None:
    events = weather([(12, 14)] * 30, [0] * 30)
    today = FIRST + 15
    asked = evaluate(bed_view(events), ONLY_WATER, today, today * DAY_S + 43_200)[0]
    litres = asked["message"]["values"]["volume_l"]
    poured = event("water", today, volume_l=litres) | {"bed": "b1"}
    now = account([*events, poured], 15).lines[-1]
    # Litres are told in whole ones: half a litre on five square metres is a tenth of a millimetre.
    assert now["depletion_mm"] <= 0.1
    assert now["drained_mm"] <= 0.1


def test_drip_asks_for_the_litres_that_the_whole_bed_has_lost() -> None:
    """Plants drink for the whole bed from the soil that is wet, so nothing is left out."""
    events = [*weather([(12, 14)] * 30, [0] * 30), event("water", FIRST, volume_l=200)]
    events[-1]["bed"] = "b1"
    wide = account(events, 3).lines[-1]
    drip = account(events, 3, bed={"water_method": "drip", "wetted_percent": 50}).lines[-1]
    assert drip["depletion_mm"] == wide["depletion_mm"]
    assert drip["taw_mm"] == wide["taw_mm"] / 2


def test_a_wider_error_of_filled_days_parts_the_ends() -> None:
    events = weather([(12, 14)] * 10, [20, *[0] * 15])
    narrow = account(events, 15, place=_place({"soil_water.fill_error_c": 0})).lines[-1]
    wide = account(events, 15, place=_place({"soil_water.fill_error_c": 4})).lines[-1]
    assert wide["dry_mm"] > narrow["dry_mm"]
    assert wide["wet_mm"] < narrow["wet_mm"]
    assert wide["depletion_mm"] == narrow["depletion_mm"]


def _place(thresholds: Json) -> Json:
    return {"latitude_deg": 45.7, "thresholds": thresholds}
