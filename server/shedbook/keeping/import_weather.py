"""A weather station's table, a row a day, as drafts of entries in SI units.

A row may tell of three kinds: the air's lowest and highest temperature, rain, and what else a
station measures. Each is its own entry, at noon of the day; what the row is silent about is not
written.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from shedbook.keeping.csv_cells import NOON, CellUnfit, Writing, read_date, read_number
from shedbook.keeping.csv_columns import MappingUnfit, find_columns
from shedbook.keeping.import_csv import Row, date_problem
from shedbook.keeping.take_in import Draft
from shedbook.log.check import check_details
from shedbook.log.kinds import KINDS
from shedbook.log.moment import parse_day

DATE = "date"
# What a column may be: the kind and field that it becomes, and what is measured.
TARGETS: Mapping[str, tuple[str, str, str]] = {
    "low": ("air_temperature", "low_c", "temperature"),
    "high": ("air_temperature", "high_c", "temperature"),
    "rain": ("rain", "depth_mm", "rain"),
    "humidity_low": ("day_weather", "humidity_low_percent", "humidity"),
    "humidity_high": ("day_weather", "humidity_high_percent", "humidity"),
    "dew_point": ("day_weather", "dew_point_c", "temperature"),
    "wind": ("day_weather", "wind_m_s", "wind"),
    "wind_height": ("day_weather", "wind_height_m", "height"),
    "sun": ("day_weather", "sunshine_hours", "sun"),
    "radiation": ("day_weather", "radiation_mj_m2", "radiation"),
}
# What a value in that unit is times this, after the first was taken away. The first is the default.
UNITS: Mapping[str, Mapping[str, tuple[float, float]]] = {
    "temperature": {"C": (0, 1), "F": (32, 5 / 9)},
    "rain": {"mm": (0, 1), "in": (0, 25.4)},
    "humidity": {"%": (0, 1)},
    "wind": {"m/s": (0, 1), "km/h": (0, 1 / 3.6), "mph": (0, 0.44704), "kn": (0, 1852 / 3600)},
    "height": {"m": (0, 1), "ft": (0, 0.3048)},
    "sun": {"h": (0, 1), "min": (0, 1 / 60)},
    "radiation": {"MJ/m2": (0, 1), "W/m2": (0, 0.0864)},
}
# How stations write that they have no reading.
NO_READING = frozenset({"", "-", "--", "---", "na", "n/a", "nan", "null", "m"})
DECIMALS = 3

# The rain of the log by local day: instants and depths.
KnownRain = Mapping[int, Sequence[tuple[int, float]]]


@dataclass(frozen=True)
class Station:
    """How a station's table is to be read, and what rain the log has already."""

    positions: Mapping[str, int]
    headers: Mapping[str, str]
    fixed: Mapping[str, str]
    units: Mapping[str, str]
    writing: Writing
    zone: str
    known_rain: KnownRain


def read_station_columns(
    headers: Sequence[str], mapped: Mapping[str, str], fixed: Mapping[str, str]
) -> dict[str, int]:
    """Where each mapped column is. Raises MappingUnfit, which names what would be right."""
    known = [DATE, *TARGETS]
    for target in {**mapped, **fixed}:
        if target not in known:
            raise MappingUnfit(f"{target} is not one of: {', '.join(known)}.")
    if both := sorted(set(mapped) & set(fixed)):
        raise MappingUnfit(f"{both[0]} is given both as a column and as a fixed value.")
    if DATE not in mapped:
        raise MappingUnfit("Say which column has the date, such as date=Day.")
    if not set(mapped) - {DATE}:
        raise MappingUnfit("Say which columns hold the weather, such as low=Tmin,high=Tmax.")
    return find_columns(headers, mapped)


def check_units(units: Mapping[str, str]) -> None:
    """Raise MappingUnfit for a unit that is not known."""
    for what, unit in units.items():
        if what not in UNITS:
            raise MappingUnfit(f"{what} is not one of: {', '.join(UNITS)}.")
        if unit not in UNITS[what]:
            raise MappingUnfit(f"{what} is in one of {', '.join(UNITS[what])}, not in {unit}.")


def read_weather(rows: Sequence[tuple[int, list[str]]], station: Station, now_s: int) -> list[Row]:
    """Every entry of every row, read and checked as strictly as a form checks."""
    found = []
    lines: dict[date, int] = {}
    for line, cells in rows:
        reader = _DayReader(line, cells, station, now_s)
        day = reader.day()
        if day is not None and day in lines:
            reader.row.problems.append(f"{day.isoformat()} stands in line {lines[day]} already.")
        elif day is not None:
            lines[day] = line
            found += reader.entries(day)
        if reader.row.problems:
            found.append(reader.row)
    return found


class _DayReader:
    """Reads one row; what is wrong with it goes into `row`, which then holds no draft."""

    def __init__(self, line: int, cells: Sequence[str], station: Station, now_s: int) -> None:
        self.row = Row(line)
        self._cells = cells
        self._station = station
        self._now_s = now_s

    def day(self) -> date | None:
        """The day that the row is about."""
        try:
            day = read_date(self._text(DATE), self._station.writing)
        except (CellUnfit, ValueError) as error:
            self._tell(DATE, str(error))
            return None
        wrong = date_problem(self._noon(day), self._now_s)
        if wrong is not None:
            self._tell(DATE, wrong)
        return None if wrong else day

    def entries(self, day: date) -> list[Row]:
        """The entries of the day, each with what a form would ask about again."""
        by_kind: dict[str, dict[str, float]] = {}
        for target, (kind, field, _) in TARGETS.items():
            value = self._value(target)
            if value is not None:
                by_kind.setdefault(kind, {})[field] = value
        if self._station.fixed and set(by_kind.get("day_weather", {})) == {"wind_height_m"}:
            del by_kind["day_weather"]
        found = [self._entry(kind, details, day) for kind, details in by_kind.items()]
        if not found and not self.row.problems:
            self.row.problems.append("The row has no reading.")
        return [row for row in found if row.draft is not None]

    def _entry(self, kind: str, details: dict[str, float], day: date) -> Row:
        row = Row(self.row.line)
        checked = check_details(KINDS[kind], {}, details)
        for path, texts in checked.problems.items():
            self._tell(self._target(kind, path), *texts)
        for path, texts in checked.remarks.items():
            row.oddities.append(f"{self._label(self._target(kind, path))}: {' '.join(texts)}")
        noon = self._noon(day)
        if kind == "rain":
            row.oddities += self._rain_already(day, noon, details["depth_mm"])
        if not checked.problems:
            row.draft = Draft(kind, {}, details, noon)
        return row

    def _rain_already(self, day: date, noon: datetime, depth_mm: float) -> list[str]:
        """Rain of one day adds up, so a gauge must not be told of twice."""
        known = self._station.known_rain.get(parse_day(day.isoformat()), ())
        if not known or (int(noon.timestamp()), depth_mm) in known:
            return []
        return [f"{self._label('rain')}: The log has rain on {day.isoformat()}, and it adds up."]

    def _value(self, target: str) -> float | None:
        text = self._text(target)
        if text.casefold() in NO_READING:
            return None
        measured = TARGETS[target][2]
        units = UNITS[measured]
        less, times = units[self._station.units.get(measured, next(iter(units)))]
        try:
            return round((read_number(text, self._station.writing) - less) * times, DECIMALS)
        except CellUnfit as error:
            self._tell(target, str(error))
            return None

    def _text(self, target: str) -> str:
        position = self._station.positions.get(target)
        if position is None:
            return self._station.fixed.get(target, "")
        return self._cells[position].strip() if position < len(self._cells) else ""

    def _noon(self, day: date) -> datetime:
        zone = ZoneInfo(self._station.zone)
        return datetime(day.year, day.month, day.day, *NOON, tzinfo=zone)

    def _target(self, kind: str, path: str) -> str:
        """The column that a path of the check comes from."""
        name = path.removeprefix("details.")
        found = [target for target, one in TARGETS.items() if one[:2] == (kind, name)]
        return found[0] if found else DATE

    def _label(self, target: str) -> str:
        return self._station.headers.get(target, target)

    def _tell(self, target: str, *texts: str) -> None:
        self.row.problems.append(f"{self._label(target)}: {' '.join(texts)}")
