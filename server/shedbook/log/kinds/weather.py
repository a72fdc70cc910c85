"""Kinds of weather; without a bed a figure holds for the whole garden."""

from shedbook.log.kinds import fields as f
from shedbook.log.kinds.making import PERHAPS_A_BED, Kind, Work, field, number


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


KINDS = (
    Kind(Rain, "weather", PERHAPS_A_BED),
    Kind(LeafWetness, "weather", PERHAPS_A_BED),
    Kind(AirTemperature, "weather", PERHAPS_A_BED),
    Kind(SoilTemperature, "weather", PERHAPS_A_BED),
)
