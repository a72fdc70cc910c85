"""Amounts as a person of the US sees and types them; the log holds SI units alone."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

RUNNER = Path(__file__).parents[2] / "twins" / "units.mjs"


def ask(**asked: Any) -> dict[str, Any]:
    command = [shutil.which("node") or "node", str(RUNNER), json.dumps(asked)]
    ran = subprocess.run(command, capture_output=True, check=False, timeout=60)
    assert ran.returncode == 0, ran.stderr.decode()
    told: dict[str, Any] = json.loads(ran.stdout)
    return told


# NIST Special Publication 811 (2008), appendix B.8: what one US unit is in SI units.
ONE_OF_EACH = [
    ("mm", 25.4, "in"),
    ("cm", 2.54, "in"),
    ("cm²", 6.4516, "in²"),
    ("m", 0.3048, "ft"),
    ("m²", 0.09290304, "ft²"),
    ("L", 3.785412, "gal"),
    ("L/min", 3.785412, "gal/min"),
    ("mL", 29.57353, "fl oz"),
    ("g", 28.34952, "oz"),
    ("kg", 0.4535924, "lb"),
    ("kg/m²", 0.3051517, "oz/ft²"),
    ("m/s", 0.44704, "mph"),
]


@pytest.mark.parametrize(("metric", "one", "us"), ONE_OF_EACH, ids=[row[2] for row in ONE_OF_EACH])
def test_one_us_unit_is_what_the_standard_says(metric: str, one: float, us: str) -> None:
    ((shown, unit),) = ask(conversions=[(metric, one)])["conversions"]
    assert unit == us
    assert shown == pytest.approx(1, rel=2e-7)


def test_temperatures_have_their_zero_and_sums_of_warmth_have_none() -> None:
    told = ask(conversions=[("°C", 0), ("°C", 100), ("°C", -40), ("°C days", 100), ("days", 3)])
    expected = [[32, "°F"], [212, "°F"], [-40, "°F"], [180, "°F days"], [3, "days"]]
    assert told["conversions"] == [[pytest.approx(value), unit] for value, unit in expected]


@settings(max_examples=20)
@given(
    shown=st.lists(
        st.tuples(
            st.sampled_from(["°C", "mm", "m", "m²", "L", "g", "mL"]),
            st.integers(-4000, 40000).map(lambda hundredths: hundredths / 100),
        ),
        min_size=1,
        max_size=20,
    )
)
def test_what_was_typed_is_shown_again(shown: list[tuple[str, float]]) -> None:
    told = ask(typed=shown)["typed"]
    assert told == [pytest.approx(value, abs=0.011) for _, value in shown]


def test_strides_are_round_in_the_units_that_are_shown() -> None:
    asked = [("mm", 1), ("L", 1), ("L", 5), ("°C", 1), ("m", 0.05), ("g", 10), ("m²", 1)]
    assert ask(steps=asked)["steps"] == [0.025, 0.25, 1, 1, 0.1, 0.25, 10]


@pytest.mark.parametrize(
    ("template", "values", "metric", "us"),
    [
        ("{volume_l} L are due.", {"volume_l": 20}, "20 L are due.", "5.3 gal are due."),
        ("{low_c} to {high_c} °C", {"low_c": 10, "high_c": 30}, "10 to 30 °C", "50 to 86 °F"),
        ("{value} °C is low.", {"value": 5}, "5 °C is low.", "41 °F is low."),
        ("give or take {error_k} °C", {"error_k": 2}, "give or take 2 °C", "give or take 3.6 °F"),
        ("{length_m} × {width_m} m", {"length_m": 6, "width_m": 1}, "6 × 1 m", "19.69 × 3.28 ft"),
        ("{sum_c_days} °C days", {"sum_c_days": 100}, "100 °C days", "180 °F days"),
        ("{sum_c_days} °C días", {"sum_c_days": 100}, "100 °C días", "180 °F días"),
        ("{rain_mm}mm", {"rain_mm": 25.4}, "25.4mm", "1in"),
        ("{count} plants, {name} may go", {"count": 3, "name": "L"}, "3 plants, L may go", None),
        (
            "{size_m} makes {m2_m2} m²",
            {"size_m": 1, "m2_m2": 1},
            "1 makes 1 m²",
            "3.28 makes 10.76 ft²",
        ),
    ],
)
def test_units_of_a_text_follow_the_person(
    template: str, values: dict[str, Any], metric: str, us: str | None
) -> None:
    told = ask(texts=[("metric", template, values), ("us", template, values)])["texts"]
    assert told == [metric, us or metric]


def test_usual_amounts_are_round_in_the_units_that_are_shown() -> None:
    asked = [
        *[(system, "mm", rain) for system in ("metric", "us") for rain in (2, 5, 10, 25)],
        *[("us", "L", water) for water in (10, 20, 40)],
        ("us", "m", 1.2, 0.3),
        ("metric", "m", 1.2, 0.3),
        ("metric", "L", 7.4, 1),
    ]
    rain = [2, 5, 10, 25, 0.1, 0.2, 0.5, 1]
    assert ask(round=asked)["round"] == [*rain, 2.5, 5, 10, 4, 1.2, 7]


def test_us_units_are_expected_only_where_language_and_clock_agree() -> None:
    asked = [
        (["en-US", "es"], "America/Chicago"),
        (["es-US"], "Pacific/Honolulu"),
        (["en-US"], "Europe/Berlin"),
        (["en-CA"], "America/Toronto"),
        (["es-MX"], "America/Mexico_City"),
        (["en"], "America/Chicago"),
        ([], "UTC"),
    ]
    assert ask(usual=asked)["usual"] == ["us", "us", *["metric"] * 5]
