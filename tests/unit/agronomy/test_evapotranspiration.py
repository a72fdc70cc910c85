"""What holds for evapotranspiration on any day, and what stands in for a missing measurement."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedbook.agronomy import humidity, radiation
from shedbook.agronomy.errors import OutOfRange
from shedbook.agronomy.hargreaves import extraterrestrial_radiation, hargreaves_et0
from shedbook.agronomy.penman_monteith import Place, Weather, air_pressure, reference_day
from shedbook.agronomy.wind import wind_at_two_metres

PLACE = Place(45, 100)
JULY = 190

means = st.floats(-10, 35)
swings = st.floats(0, 20)
latitudes = st.floats(-65, 65)
days = st.integers(1, 366)


@given(means, swings, st.floats(0, 5), latitudes, days)
def test_hargreaves_rises_with_the_range_of_temperature(
    mean: float, swing: float, more: float, latitude: float, day: int
) -> None:
    ra = extraterrestrial_radiation(latitude, day)
    calm = hargreaves_et0(mean - swing / 2, mean + swing / 2, ra)
    wide = swing + more
    assert hargreaves_et0(mean - wide / 2, mean + wide / 2, ra) >= calm - 1e-9


@given(latitudes, days)
def test_radiation_is_the_same_half_a_year_on_beyond_the_equator(latitude: float, day: int) -> None:
    ra = extraterrestrial_radiation(latitude, day)
    assert 0 < ra < 50
    hours = radiation.daylight_hours(latitude, day)
    across = radiation.daylight_hours(-latitude, day)
    assert math.isclose(hours + across, 24, abs_tol=1e-9)


@given(means, swings, st.floats(0.1, 8), st.floats(0, 10))
def test_reference_day_is_never_below_nothing(
    mean: float, swing: float, wind: float, sun: float
) -> None:
    weather = Weather(mean - swing / 2, mean + swing / 2, wind_m_s=wind, sunshine_h=sun)
    assert 0 <= reference_day(weather, PLACE, JULY).et0_mm < 25


def test_hargreaves_in_hard_frost_is_nothing() -> None:
    assert hargreaves_et0(-30, -20, 10) == 0


def test_drier_air_and_more_wind_take_more_water() -> None:
    damp = reference_day(Weather(15, 28, dew_point_c=14, wind_m_s=2), PLACE, JULY).et0_mm
    dry = reference_day(Weather(15, 28, dew_point_c=8, wind_m_s=2), PLACE, JULY).et0_mm
    windy = reference_day(Weather(15, 28, dew_point_c=8, wind_m_s=5), PLACE, JULY).et0_mm
    assert damp < dry < windy


@pytest.mark.parametrize(
    ("weather", "estimated"),
    [
        (Weather(15, 28), ("humidity", "radiation", "wind")),
        (Weather(15, 28, dew_point_c=10), ("radiation", "wind")),
        (Weather(15, 28, humidity_high_percent=90), ("radiation", "wind")),
        (Weather(15, 28, humidity_low_percent=50), ("humidity", "radiation", "wind")),
        (Weather(15, 28, sunshine_h=9, wind_m_s=2), ("humidity",)),
        (Weather(15, 28, radiation_mj=22, wind_m_s=2, dew_point_c=10), ()),
    ],
)
def test_reference_day_says_what_it_estimated(weather: Weather, estimated: tuple[str]) -> None:
    assert reference_day(weather, PLACE, JULY).estimated == estimated


def test_dew_point_stands_before_humidity() -> None:
    both = Weather(15, 28, dew_point_c=10, humidity_low_percent=20, humidity_high_percent=90)
    dew = Weather(15, 28, dew_point_c=10)
    assert reference_day(both, PLACE, JULY) == reference_day(dew, PLACE, JULY)


def test_dew_point_at_the_days_low_is_what_missing_humidity_means() -> None:
    told = reference_day(Weather(15, 28, dew_point_c=15), PLACE, JULY)
    assert told.et0_mm == reference_day(Weather(15, 28), PLACE, JULY).et0_mm


@given(st.floats(0.1, 30), st.floats(2.1, 30))
def test_wind_at_two_metres_is_less_than_higher_up(speed: float, height: float) -> None:
    assert wind_at_two_metres(speed, height) < speed


@given(st.floats(0.1, 30))
def test_wind_at_two_metres_is_itself_at_two_metres(speed: float) -> None:
    # The formula's own constant is rounded.
    assert math.isclose(wind_at_two_metres(speed, 2), speed, rel_tol=1e-3)


def test_more_sunshine_than_daylight_counts_as_all_of_it() -> None:
    assert radiation.solar_radiation_from_sunshine(15, 12, 40) == 30


def test_cloud_never_turns_the_loss_of_heat_into_a_gain() -> None:
    assert radiation.net_longwave(5, 12, 1.0, 0, 25) > 0


@pytest.mark.parametrize(
    "ask",
    [
        lambda: extraterrestrial_radiation(65.1, 10),
        lambda: extraterrestrial_radiation(40, 0),
        lambda: extraterrestrial_radiation(40, 367),
        lambda: hargreaves_et0(20, 10, 30),
        lambda: hargreaves_et0(math.nan, 10, 30),
        lambda: hargreaves_et0(10, 20, 61),
        lambda: air_pressure(6001),
        lambda: wind_at_two_metres(-1, 2),
        lambda: wind_at_two_metres(1, 0.1),
        lambda: humidity.vapour_pressure_from_humidity(10, 20, 90, 50),
        lambda: humidity.vapour_pressure_from_mean_humidity(10, 20, 101),
        lambda: radiation.solar_radiation_from_sunshine(5, 0, 30),
        lambda: radiation.net_longwave(5, 12, 1.0, 10, 0),
        lambda: reference_day(Weather(15, 28, radiation_mj=61), PLACE, JULY),
    ],
)
def test_what_the_formulas_do_not_cover_is_refused(ask: object) -> None:
    with pytest.raises(OutOfRange):
        ask()  # type: ignore[operator]
