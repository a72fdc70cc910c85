"""What a season's air asked for, by the thermometer alone and by a station's figures."""

import pytest

from shedbook.reports.thirst import thirst
from tests.unit.rules.logbook import Logbook

PLACE = {"latitude_deg": 50.8, "longitude_deg": 4.35, "elevation_m": 100}
STATION = {
    "humidity_low_percent": 63,
    "humidity_high_percent": 84,
    "wind_m_s": 2.78,
    "wind_height_m": 10,
    "sunshine_hours": 9.25,
}


def a_book(**place: float) -> Logbook:
    book = Logbook()
    book.write("setting", "2026-01-02T08:00:00+02:00", place or PLACE, {})
    return book


def measure(book: Logbook, day: str, kind: str, details: dict[str, float]) -> None:
    book.write(kind, f"2026-07-{day}T20:00:00+02:00", details, {})


def test_day_with_a_station_is_told_by_both_ways() -> None:
    book = a_book()
    measure(book, "06", "air_temperature", {"low_c": 12.3, "high_c": 21.5})
    measure(book, "06", "day_weather", STATION)
    told = thirst(book.ledger, 2026)
    assert told is not None
    # FAO-56, example 18: Uccle, 6 July: 3.88 mm, printed as 3.9.
    assert told["penman_mm"] == pytest.approx(3.88, abs=0.01)
    assert told["same_days_mm"] == told["hargreaves_mm"] > 0
    assert (told["days"], told["station_days"], told["estimated"]) == (1, 1, {})


def test_day_without_a_station_is_told_by_the_thermometer_alone() -> None:
    book = a_book()
    measure(book, "06", "air_temperature", {"low_c": 12.3, "high_c": 21.5})
    told = thirst(book.ledger, 2026)
    assert told is not None
    assert (told["days"], told["station_days"], told["penman_mm"]) == (1, 0, 0)


def test_inputs_that_were_estimated_are_counted() -> None:
    book = a_book()
    measure(book, "06", "air_temperature", {"low_c": 12.3, "high_c": 21.5})
    measure(book, "06", "day_weather", {"wind_m_s": 2})
    told = thirst(book.ledger, 2026)
    assert told is not None
    assert told["estimated"] == {"humidity": 1, "radiation": 1}


def test_readings_of_one_day_are_joined() -> None:
    book = a_book()
    measure(book, "06", "air_temperature", {"low_c": 12.3})
    measure(book, "06", "air_temperature", {"high_c": 21.5})
    assert (thirst(book.ledger, 2026) or {})["days"] == 1


def test_nothing_measured_or_no_latitude_is_not_nothing_asked_for() -> None:
    assert thirst(a_book().ledger, 2026) is None
    book = Logbook()
    measure(book, "06", "air_temperature", {"low_c": 12.3, "high_c": 21.5})
    assert thirst(book.ledger, 2026) is None
    assert thirst(a_book().ledger, 2025) is None


def test_figure_that_no_formula_takes_leaves_out_its_day() -> None:
    book = a_book(latitude_deg=80, longitude_deg=0)
    measure(book, "06", "air_temperature", {"low_c": 12.3, "high_c": 21.5})
    assert thirst(book.ledger, 2026) is None
