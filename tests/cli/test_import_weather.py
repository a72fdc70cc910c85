"""`shedbook import --weather`: a station's table as air, rain and what else was measured."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from tests.cli.conftest import Run

COLUMNS = "date=Day,low=Min,high=Max,rain=Rain"


@pytest.fixture
def garden(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "Europe/Madrid")


def weather(run: Run) -> list[tuple[str, str, dict[str, Any]]]:
    """Kind, day and details of what is in the log, in its order."""
    entries = [json.loads(line) for line in run("export").stdout.splitlines()]
    kinds = ("air_temperature", "rain", "day_weather")
    return [
        (entry["kind"], entry["happened_at"][:10], entry["details"])
        for entry in entries
        if entry["kind"] in kinds
    ]


def take(run: Run, folder: Path, text: str, *more: str, columns: str = COLUMNS) -> Result:
    file = folder / "station.csv"
    file.write_text(text, encoding="utf-8")
    return run("import", "--weather", str(file), "--columns", columns, *more)


@pytest.mark.usefixtures("garden")
def test_each_day_becomes_air_and_rain_at_noon(run: Run, tmp_path: Path) -> None:
    text = "Day,Min,Max,Rain\n2026-06-01,11.5,24,0\n2026-06-02,12,26.5,3.2\n"
    done = take(run, tmp_path, text, "--accept")
    assert done.exit_code == 0, done.output
    assert "line 2: 2026-06-01 12:00  air_temperature  low_c=11.5 high_c=24" in done.stdout
    assert "Stored 4 entries." in done.stdout
    assert weather(run) == [
        ("air_temperature", "2026-06-01", {"low_c": 11.5, "high_c": 24}),
        ("rain", "2026-06-01", {"depth_mm": 0}),
        ("air_temperature", "2026-06-02", {"low_c": 12, "high_c": 26.5}),
        ("rain", "2026-06-02", {"depth_mm": 3.2}),
    ]


@pytest.mark.usefixtures("garden")
def test_nothing_is_stored_before_it_was_accepted(run: Run, tmp_path: Path) -> None:
    done = take(run, tmp_path, "Day,Min,Max,Rain\n2026-06-01,11,24,0\n")
    assert done.exit_code == 1
    assert "Store them?" in done.output
    assert weather(run) == []


@pytest.mark.usefixtures("garden")
def test_units_of_the_station_are_turned_into_ours(run: Run, tmp_path: Path) -> None:
    columns = (
        "date=Day,low=Min,high=Max,rain=Rain,dew_point=Dew,humidity_low=Hum,wind=Wind,"
        "wind_height=Mast,sun=Sun,radiation=Rad"
    )
    text = "Day,Min,Max,Rain,Dew,Hum,Wind,Mast,Sun,Rad\n2026-06-01,50,77,0.5,41,48,10,10,330,250\n"
    units = "temperature=F,rain=in,wind=mph,height=ft,sun=min,radiation=W/m2"
    done = take(run, tmp_path, text, "--units", units, "--accept", columns=columns)
    assert done.exit_code == 0, done.output
    assert weather(run) == [
        ("air_temperature", "2026-06-01", {"low_c": 10, "high_c": 25}),
        ("rain", "2026-06-01", {"depth_mm": 12.7}),
        (
            "day_weather",
            "2026-06-01",
            {
                "humidity_low_percent": 48,
                "dew_point_c": 5,
                "wind_m_s": 4.47,
                "wind_height_m": 3.048,
                "sunshine_hours": 5.5,
                "radiation_mj_m2": 21.6,
            },
        ),
    ]


@pytest.mark.usefixtures("garden")
def test_decimal_commas_other_dates_and_empty_cells_are_read(run: Run, tmp_path: Path) -> None:
    text = "Day;Min;Max;Rain\n01.06.2026;11,5;24,25;--\n02.06.2026;;;1,5\n"
    done = take(run, tmp_path, text, "--decimal-comma", "--date-format", "%d.%m.%Y", "--accept")
    assert done.exit_code == 0, done.output
    assert weather(run) == [
        ("air_temperature", "2026-06-01", {"low_c": 11.5, "high_c": 24.25}),
        ("rain", "2026-06-02", {"depth_mm": 1.5}),
    ]


@pytest.mark.usefixtures("garden")
def test_mast_of_the_station_goes_with_its_wind_alone(run: Run, tmp_path: Path) -> None:
    text = "Day,Min,Max,Wind\n2026-06-01,11,24,3\n2026-06-02,11,24,-\n"
    columns = "date=Day,low=Min,high=Max,wind=Wind"
    fixed = ("--fixed", "wind_height=10", "--units", "wind=km/h")
    done = take(run, tmp_path, text, *fixed, "--accept", columns=columns)
    assert done.exit_code == 0, done.output
    told = [details for kind, _, details in weather(run) if kind == "day_weather"]
    assert told == [{"wind_m_s": 0.833, "wind_height_m": 10}]


@pytest.mark.usefixtures("garden")
def test_every_wrong_row_is_named_and_nothing_is_stored(run: Run, tmp_path: Path) -> None:
    ahead = (datetime.now(UTC).date() + timedelta(days=9)).isoformat()
    rows = [
        "2026-06-01,11,24,0",
        "2026-06-01,11,24,0",
        "June 2,11,24,0",
        "2026-06-03,warm,24,0",
        "2026-06-04,24,11,0",
        "2026-06-05,,,",
        f"{ahead},11,24,0",
        "2026-06-06,-99,24,0",
    ]
    done = take(run, tmp_path, "\n".join(["Day,Min,Max,Rain", *rows, ""]), "--accept")
    assert done.exit_code == 1
    told = done.output
    assert "line 3: 2026-06-01 stands in line 2 already." in told
    assert "line 4: Day: June 2" in told
    assert "line 5: Min: warm should be a bare number, without a unit." in told
    assert "line 6: " in told
    assert "line 7: The row has no reading." in told
    assert "line 8: Day: " in told
    assert "line 9: Min: " in told
    assert "Nothing was stored" in told
    assert weather(run) == []


@pytest.mark.usefixtures("garden")
def test_what_is_unusual_needs_a_sure_hand(run: Run, tmp_path: Path) -> None:
    text = "Day,Min,Max,Rain\n2026-06-01,11,24,180\n"
    refused = take(run, tmp_path, text, "--accept")
    assert refused.exit_code == 1
    assert "line 2: Rain: " in refused.output
    assert take(run, tmp_path, text, "--sure", "--accept").exit_code == 0
    assert ("rain", "2026-06-01", {"depth_mm": 180}) in weather(run)


@pytest.mark.usefixtures("garden")
def test_same_table_twice_is_no_second_log(run: Run, tmp_path: Path) -> None:
    text = "Day,Min,Max,Rain\n2026-06-01,11,24,4\n"
    take(run, tmp_path, text, "--accept")
    again = take(run, tmp_path, text, "--accept")
    assert again.exit_code == 0
    assert "Every row is in the log already." in again.stdout
    assert len(weather(run)) == 2


@pytest.mark.usefixtures("garden")
def test_rain_of_a_day_that_the_log_has_already_is_asked_about(run: Run, tmp_path: Path) -> None:
    take(run, tmp_path, "Day,Min,Max,Rain\n2026-06-01,11,24,4\n", "--accept")
    again = take(run, tmp_path, "Day,Min,Max,Rain\n2026-06-01,11,24,5\n", "--accept")
    assert again.exit_code == 1
    assert "The log has rain on 2026-06-01, and it adds up." in again.output


@pytest.mark.usefixtures("garden")
@pytest.mark.parametrize(
    ("columns", "more", "told"),
    [
        ("low=Min", (), "Say which column has the date"),
        ("date=Day", (), "Say which columns hold the weather"),
        ("date=Day,bed=Min", (), "bed is not one of"),
        ("date=Day,low=Mim", (), "Did you mean Min?"),
        ("date=Day,low=Min", ("--units", "warmth=F"), "warmth is not one of"),
        ("date=Day,low=Min", ("--units", "temperature=K"), "in one of C, F, not in K"),
        ("date=Day,low=Min", ("--fixed", "low=3"), "given both as a column and as a fixed value"),
    ],
)
def test_mapping_that_does_not_fit_says_what_would(
    run: Run, tmp_path: Path, columns: str, more: tuple[str, ...], told: str
) -> None:
    done = take(run, tmp_path, "Day,Min\n2026-06-01,11\n", *more, columns=columns)
    assert done.exit_code == 2
    assert told in " ".join(done.output.split())


@pytest.mark.usefixtures("garden")
def test_only_one_kind_of_file_is_taken_at_a_time(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "station.csv"
    file.write_text("Day,Min\n2026-06-01,11\n", encoding="utf-8")
    done = run("import", "--weather", str(file), "--csv", str(file))
    assert done.exit_code == 2
    assert "Give one of FILE, --csv FILE and --weather FILE." in done.output
