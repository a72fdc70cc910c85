"""Kinds of weather; without a bed a figure holds for the whole garden."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import (
    PERHAPS_A_BED,
    THE_GARDEN,
    Kind,
    Work,
    field,
    number,
    work_on,
)


class Rain(Work):
    """Rain in the gauge since it was last emptied."""

    kind_name = "rain"
    depth_mm = number("mm", 0, 1000, step=1, required=True, primary=True, above=100)


class LeafWetness(Work):
    """Whether leaves were wet, or how long."""

    kind_name = "leaf_wetness"
    at_least_one = (("wet", "hours"),)
    wet = field(f.BooleanField, primary=True)
    hours = number("hours", 0, 24, step=0.5, primary=True)


class AirTemperature(Work):
    """Lowest and highest temperature of the day."""

    kind_name = "air_temperature"
    at_least_one = (("low_c", "high_c"),)
    not_above = (("low_c", "high_c"),)
    low_c = number("°C", -70, 60, step=0.5, primary=True, below=-25)
    high_c = number("°C", -70, 60, step=0.5, primary=True, above=45)


class SoilTemperature(Work):
    """Temperature in the soil at a depth."""

    kind_name = "soil_temperature"
    temperature_c = number(
        "°C", -40, 80, step=0.5, required=True, primary=True, below=-10, above=45
    )
    depth_mm = number("mm", 0, 2000, step=10, primary=True, above=500)


class DayWeather(Work):
    """What a station measures beside temperature and rain, over one day."""

    kind_name = "day_weather"
    at_least_one = (
        (
            "humidity_low_percent",
            "humidity_high_percent",
            "dew_point_c",
            "wind_m_s",
            "sunshine_hours",
            "radiation_mj_m2",
        ),
    )
    not_above = (("humidity_low_percent", "humidity_high_percent"),)
    needs = (("wind_height_m", "wind_m_s"),)
    humidity_low_percent = number("%", 1, 100, step=1, primary=True)
    humidity_high_percent = number("%", 1, 100, step=1, primary=True)
    dew_point_c = number("°C", -70, 40, step=0.5, below=-30, above=30)
    wind_m_s = number("m/s", 0, 60, step=0.1, primary=True, above=20)
    wind_height_m = number("m", 0.2, 20, step=0.5)
    sunshine_hours = number("hours", 0, 24, step=0.5, primary=True, above=18)
    radiation_mj_m2 = number("MJ/m²", 0, 50, step=0.1, above=40)


class Forecast(Work):
    """The lowest temperature that is expected in the coming night, as someone else forecast it."""

    kind_name = "forecast"
    not_above = (("low_c", "high_c"),)
    low_c = number("°C", -70, 60, step=0.5, required=True, primary=True, below=-25, above=35)
    high_c = number("°C", -70, 60, step=0.5, above=45)


# A tray on the windowsill has air and soil of its own.
PERHAPS_A_PLACE = work_on("optional", "optional", "none")

KINDS = (
    Kind(Rain, "weather", PERHAPS_A_BED),
    Kind(LeafWetness, "weather", PERHAPS_A_BED),
    Kind(AirTemperature, "weather", PERHAPS_A_PLACE),
    Kind(SoilTemperature, "weather", PERHAPS_A_PLACE),
    Kind(DayWeather, "weather", THE_GARDEN),
    Kind(Forecast, "weather", THE_GARDEN),
)
