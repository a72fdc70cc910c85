"""Reference evapotranspiration of a day by the Penman-Monteith equation of FAO-56."""

import math
from typing import NamedTuple

from shedbook.agronomy import humidity, radiation
from shedbook.agronomy.errors import OutOfRange
from shedbook.agronomy.hargreaves import extraterrestrial_radiation
from shedbook.agronomy.wind import wind_at_two_metres

USUAL_WIND_M_S = 2.0
HEAT_OF_VAPORISATION = 0.408


class Place(NamedTuple):
    """Where the garden lies."""

    latitude_deg: float
    elevation_m: float


class Weather(NamedTuple):
    """One day's measurements; what nobody measured is None."""

    low_c: float
    high_c: float
    dew_point_c: float | None = None
    humidity_low_percent: float | None = None
    humidity_high_percent: float | None = None
    wind_m_s: float | None = None
    wind_height_m: float | None = None
    sunshine_h: float | None = None
    radiation_mj: float | None = None


class ReferenceDay(NamedTuple):
    """The day's reference evapotranspiration, and which of its inputs were estimated."""

    et0_mm: float
    estimated: tuple[str, ...]


def air_pressure(elevation_m: float) -> float:
    """Usual pressure of the air at this height.

    Parameters
    ----------
    elevation_m : float, scalar
        Above the sea. [m] -450 to 6000.

    Returns
    -------
    float, scalar
        [kPa]

    Raises
    ------
    OutOfRange
        The elevation is outside its span.

    Source
    ------
    fao56, eq. 7
    """
    if not -450 <= elevation_m <= 6000:
        raise OutOfRange("elevation_m", elevation_m, "between -450 and 6000")
    return 101.3 * math.pow((293 - 0.0065 * elevation_m) / 293, 5.26)


def psychrometric_constant(elevation_m: float) -> float:
    """How much vapour pressure evaporation adds for each degree that it cools the air.

    Parameters
    ----------
    elevation_m : float, scalar
        Above the sea. [m] -450 to 6000.

    Returns
    -------
    float, scalar
        [kPa (deg C)-1]

    Raises
    ------
    OutOfRange
        The elevation is outside its span.

    Source
    ------
    fao56, eq. 8
    """
    return 0.665e-3 * air_pressure(elevation_m)


def penman_monteith_et0(
    low_c: float,
    high_c: float,
    vapour_kpa: float,
    wind_2m_m_s: float,
    net_radiation_mj: float,
    elevation_m: float,
) -> float:
    """Water that a reference grass gives off in a day; on a day of dew, none.

    The heat that a day puts into the ground is small and left out.

    Parameters
    ----------
    low_c : float, scalar
        [deg C] -60 to 60.
    high_c : float, scalar
        [deg C] low_c to 60.
    vapour_kpa : float, scalar
        Actual vapour pressure. [kPa] 0 to 20.
    wind_2m_m_s : float, scalar
        Wind two metres above the ground. [m s-1] 0 to 100.
    net_radiation_mj : float, scalar
        Net radiation at the ground. [MJ m-2 day-1] -30 to 60.
    elevation_m : float, scalar
        Above the sea. [m] -450 to 6000.

    Returns
    -------
    float, scalar
        [mm day-1]

    Raises
    ------
    OutOfRange
        An argument outside its span, or the low above the high.

    Source
    ------
    fao56, eq. 6
    """
    saturation_kpa = humidity.mean_saturation_vapour_pressure(low_c, high_c)
    if not 0 <= vapour_kpa <= 20:
        raise OutOfRange("vapour_kpa", vapour_kpa, "between 0 and 20")
    if not 0 <= wind_2m_m_s <= 100:
        raise OutOfRange("wind_2m_m_s", wind_2m_m_s, "between 0 and 100")
    if not -30 <= net_radiation_mj <= 60:
        raise OutOfRange("net_radiation_mj", net_radiation_mj, "between -30 and 60")
    mean_c = (low_c + high_c) / 2
    slope = humidity.slope_of_saturation(mean_c)
    gamma = psychrometric_constant(elevation_m)
    sun = HEAT_OF_VAPORISATION * slope * net_radiation_mj
    dry_air = gamma * 900 / (mean_c + 273) * wind_2m_m_s * (saturation_kpa - vapour_kpa)
    return max(0.0, (sun + dry_air) / (slope + gamma * (1 + 0.34 * wind_2m_m_s)))


def reference_day(weather: Weather, place: Place, day_of_year: int) -> ReferenceDay:
    """The day's reference evapotranspiration with what was measured, the rest estimated.

    Without humidity the dew point is taken as the day's low; without sunshine or radiation the
    radiation follows from the temperatures; without wind it is taken as 2 m/s.

    Parameters
    ----------
    weather : Weather
        Temperatures [deg C], humidity [%], wind [m s-1] at a height [m], sunshine [h], radiation
        [MJ m-2 day-1].
    place : Place
        Latitude [deg] -65 to 65 and elevation [m] -450 to 6000.
    day_of_year : int, scalar
        1 on 1 January. [day] 1 to 366.

    Returns
    -------
    ReferenceDay
        [mm day-1], and the names among humidity, radiation and wind that were estimated.

    Raises
    ------
    OutOfRange
        A measurement outside its span.

    Source
    ------
    fao56, eq. 6 and chapter 3 on missing data (eqs. 48 and 50)
    """
    ra = extraterrestrial_radiation(place.latitude_deg, day_of_year)
    vapour_kpa = _vapour_pressure(weather)
    rs = _solar_radiation(weather, place, day_of_year, ra)
    if weather.wind_m_s is None:
        wind = USUAL_WIND_M_S
    else:
        wind = wind_at_two_metres(weather.wind_m_s, weather.wind_height_m or 2.0)
    rso = radiation.clear_sky_radiation(place.elevation_m, ra)
    lost = radiation.net_longwave(weather.low_c, weather.high_c, vapour_kpa, rs, rso)
    et0 = penman_monteith_et0(
        weather.low_c,
        weather.high_c,
        vapour_kpa,
        wind,
        radiation.net_shortwave(rs) - lost,
        place.elevation_m,
    )
    return ReferenceDay(et0, _estimated(weather))


def _vapour_pressure(weather: Weather) -> float:
    low_c, high_c = weather.low_c, weather.high_c
    driest, dampest = weather.humidity_low_percent, weather.humidity_high_percent
    if weather.dew_point_c is not None:
        return humidity.vapour_pressure_from_dew_point(weather.dew_point_c)
    if dampest is not None and driest is not None:
        return humidity.vapour_pressure_from_humidity(low_c, high_c, driest, dampest)
    if dampest is not None:
        return humidity.vapour_pressure_from_highest_humidity(low_c, dampest)
    return humidity.vapour_pressure_from_dew_point(low_c)


def _solar_radiation(weather: Weather, place: Place, day_of_year: int, ra: float) -> float:
    if weather.radiation_mj is not None:
        return weather.radiation_mj
    if weather.sunshine_h is not None:
        daylight = radiation.daylight_hours(place.latitude_deg, day_of_year)
        return radiation.solar_radiation_from_sunshine(weather.sunshine_h, daylight, ra)
    return radiation.solar_radiation_from_temperatures(weather.low_c, weather.high_c, ra)


def _estimated(weather: Weather) -> tuple[str, ...]:
    missing = {
        "humidity": weather.dew_point_c is None and weather.humidity_high_percent is None,
        "radiation": weather.radiation_mj is None and weather.sunshine_h is None,
        "wind": weather.wind_m_s is None,
    }
    return tuple(name for name, is_missing in missing.items() if is_missing)
