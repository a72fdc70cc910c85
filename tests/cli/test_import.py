"""`shedbook export` and `import`: an export back, and a grower's own table."""

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.cli.builders import a_bed, a_planting
from tests.cli.conftest import Run, shared_run

COLUMNS = "date=Day,bed=Where,kind=What,water.volume_l=Amount,pick.mass_g=Amount"


@pytest.fixture
def today() -> date:
    """The day on which the builders' plantings stand; asked anew, as a run may go over midnight."""
    return datetime.now(UTC).date()


@pytest.fixture
def garden(run: Run) -> str:
    """A garden with peppers in one bed; the planting's id."""
    run("garden", "new", "Test garden", "--zone", "Europe/Madrid")
    a_bed("Bare bed")
    return a_planting(a_bed("Long bed"), "pepper", "long mild red", 24)


def entries(run: Run) -> list[dict[str, Any]]:
    return [json.loads(line) for line in run("export").stdout.splitlines()]


def a_table(folder: Path, text: str) -> str:
    file = folder / "book.csv"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_an_export_goes_into_the_only_garden_while_that_is_empty(
    run: Run, garden: str, tmp_path: Path
) -> None:
    file, again = str(tmp_path / "log.jsonl"), str(tmp_path / "again")
    assert run("export", "-o", file).exit_code == 0
    run("garden", "new", "Empty garden", "--zone", "UTC", "--data", again)
    done = run("import", file, "--data", again)
    assert done.exit_code == 0, done.output
    assert "Took in 4 entries of Empty garden." in done.stdout
    assert run("export", "--data", again).stdout_bytes == Path(file).read_bytes()
    assert run("garden", "list", "--data", again).stdout.count("\n") == 1
    assert run("verify", "--data", again).exit_code == 0
    assert run("sign-in", "--data", again).exit_code == 0


def test_an_export_goes_beside_a_garden_in_use(run: Run, garden: str, tmp_path: Path) -> None:
    file, other = str(tmp_path / "log.jsonl"), str(tmp_path / "other")
    run("export", "-o", file)
    run("garden", "new", "In use", "--zone", "UTC", "--data", other)
    run("record", "rain", "depth_mm=3", "--data", other)
    refused = run("import", file, "--garden", "In use", "--data", other)
    assert refused.exit_code == 1
    assert "An import needs an empty garden." in refused.output
    assert run("import", file, "--data", other).exit_code == 0
    listed = run("garden", "list", "--data", other).stdout
    assert "In use" in listed
    assert "Imported garden" in listed


def test_an_export_into_its_own_garden_is_refused(run: Run, garden: str, tmp_path: Path) -> None:
    file = str(tmp_path / "log.jsonl")
    run("export", "-o", file)
    before = run("export").stdout
    refused = run("import", file)
    assert refused.exit_code == 1
    assert "Nothing was imported." in refused.output
    assert run("export").stdout == before


def test_export_csv_lists_its_tables(run: Run, garden: str, tmp_path: Path) -> None:
    run("record", "water", "--bed", "Long bed", "volume_l=40", "note==HYPERLINK(1)")
    done = run("export", "--csv", str(tmp_path / "tables"))
    assert done.exit_code == 0, done.output
    assert "water.csv  1 rows" in done.stdout
    assert b",'=HYPERLINK(1)," in (tmp_path / "tables" / "water.csv").read_bytes()
    assert "is not empty" in run("export", "--csv", str(tmp_path / "tables")).output
    assert run("export", "--csv", "x", "-o", "y").exit_code == 2


def test_export_to_a_place_that_cannot_be_written_says_so(
    run: Run, garden: str, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    for words in (["-o", str(tmp_path / "file" / "x")], ["--csv", str(tmp_path / "file" / "x")]):
        refused = run("export", *words)
        assert refused.exit_code == 1
        assert "Nothing was written to" in refused.output


def test_a_table_is_shown_asked_about_and_stored_at_once(
    run: Run, today: date, garden: str, tmp_path: Path
) -> None:
    table = a_table(
        tmp_path,
        f"Day;Where;What;Amount\n{today:%d.%m.%Y};long bed;poured;40,5\n"
        f"\n{today:%d.%m.%Y};Long bed;Picked;900\n",
    )
    words = ["import", "--csv", table, "--columns", COLUMNS, "--kinds", "poured=water"]
    words += ["--date-format", "%d.%m.%Y", "--decimal-comma"]
    before = entries(run)
    asked = run(*words)
    assert asked.exit_code == 1
    assert f"line 2: {today} 12:00  water  volume_l=40.5" in asked.stdout
    assert "2 entries for Test garden: 1 pick, 1 water." in asked.stdout
    assert entries(run) == before
    done = run(*words, "--fixed", "water.method=By hand", "--accept")
    assert done.exit_code == 0, done.output
    water, pick = entries(run)[len(before) :]
    assert water["details"] == {"volume_l": 40.5, "method": "hand"}
    assert pick["details"] == {"mass_g": 900}
    assert pick["subjects"]["planting"] == garden
    assert pick["happened_at"].startswith(f"{today}T12:00:00")
    assert (water["number"], pick["number"]) == (before[-1]["number"] + 1, before[-1]["number"] + 2)
    again = run(*words, "--fixed", "water.method=By hand", "--accept")
    assert again.exit_code == 0, again.output
    assert "Every row is in the log already." in again.stdout
    assert len(entries(run)) == len(before) + 2


def test_equal_rows_of_one_table_are_two_entries(
    run: Run, today: date, garden: str, tmp_path: Path
) -> None:
    row = f"{today},Long bed,water,10\n"
    table = a_table(tmp_path, f"Day,Where,What,Amount\n{row}{row}")
    before = len(entries(run))
    words = ["import", "--csv", table, "--columns", COLUMNS, "--accept"]
    assert run(*words).exit_code == 0
    assert len(entries(run)) == before + 2
    assert "Every row is in the log already." in run(*words).stdout


def test_every_fault_of_every_row_is_listed_and_nothing_is_stored(
    run: Run, today: date, garden: str, tmp_path: Path
) -> None:
    future = today + timedelta(days=40)
    table = a_table(
        tmp_path,
        "Day,Where,What,Amount\n"
        f"{today},Long bed,water,40\n"
        f"{today},Wide bed,water,much\n"
        f"{today},Bare bed,pick,900\n"
        f"{today},Long bed,dug,1\n"
        f"1.6.2026,Long bed,water,1\n"
        f"{future},Long bed,water,1\n"
        f"{today},Long bed,water,-5\n"
        f"{today},Long bed,water,\n"
        f"{today},,water,5\n",
    )
    before = entries(run)
    refused = run("import", "--csv", table, "--columns", COLUMNS, "--accept")
    assert refused.exit_code == 1
    assert entries(run) == before
    told = refused.stderr
    for line in (
        "line 3: Where: No bed is called Wide bed. The beds are: Bare bed, Long bed.",
        "line 3: Amount: much should be a bare number, without a unit.",
        "line 4: Where: Say which planting: in Bare bed stood none on",
        "line 5: What: dug is no kind of work. Say what it means with --kinds",
        "line 6: Day: 1.6.2026: A date is written like 2026-06-01.",
        "line 7: Day: Lies more than a day ahead.",
        "line 8: Amount: Must be between",
        "line 9: What: Write down litres, or millimetres, or minutes.",
        "line 10: Where: Choose a bed or a planting.",
        "Nothing was stored: 8 of 9 rows can't be taken in.",
    ):
        assert line in told, told
    assert "line 2" not in told


def test_an_unusual_amount_is_taken_in_when_sure(
    run: Run, today: date, garden: str, tmp_path: Path
) -> None:
    table = a_table(tmp_path, f"Day,Where,What,Amount\n{today},Long bed,water,5000\n")
    words = ["import", "--csv", table, "--columns", COLUMNS, "--accept"]
    refused = run(*words)
    assert refused.exit_code == 1
    assert "Amount: More than 2000 L is unusual." in refused.stderr
    assert "Add --sure" in refused.stderr
    assert run(*words, "--sure").exit_code == 0


def test_plantings_plants_and_times_are_read(
    run: Run, today: date, garden: str, tmp_path: Path
) -> None:
    table = a_table(
        tmp_path,
        f"Day,At,Which,Plants,Fruits\n{today},00:10,pepper,1-3 7,9\n{today},0:10,pepper,30,9\n"
        f"{today},25:00,kale,x,9\n",
    )
    columns = "date=Day,time=At,planting=Which,plants=Plants,count=Fruits"
    words = ["import", "--csv", table, "--columns", columns, "--fixed", "kind=pick", "--accept"]
    refused = run(*words).stderr
    assert "line 3: Plants: That planting has the plants 1 to 24." in refused
    assert "line 4: At: 25:00 should be a time like 07:40." in refused
    a_table(tmp_path, f"Day,At,Which,Plants,Fruits\n{today},00:10,pepper,1-3 7,9\n")
    done = run(*words)
    assert done.exit_code == 0, done.output
    stored = entries(run)[-1]
    assert stored["subjects"]["plants"] == [1, 2, 3, 7]
    assert stored["happened_at"].startswith(f"{today}T00:10:00")


@pytest.fixture(scope="module")
def asking(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Run]:
    """A garden that only refuses."""
    for run in shared_run(tmp_path_factory.mktemp("asking")):
        run("garden", "new", "Test garden", "--zone", "UTC")
        yield run


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "Say which column has the date"),
        (["--columns", "date=Day"], "Say what was done"),
        (["--columns", "date=Dya,kind=What"], "has no column Dya. Did you mean Day?"),
        (["--columns", "date=Day,kind=What,volume=Amount"], "Did you mean volume_l?"),
        (["--columns", "date=Day,kind=What,dig.depth=Amount"], "dig is no kind."),
        (["--columns", "date=Day,kind"], "should be name=value"),
        (["--columns", "date=Day", "--columns", "date=What"], "date is given twice"),
        (["--columns", "date=Day,kind=What", "--fixed", "kind=water"], "both as a column and as"),
        (["--columns", "date=Day,kind=What", "--kinds", "dug=digging"], "digging is no kind."),
    ],
)
def test_a_mapping_that_is_not_understood_is_refused(
    asking: Run, tmp_path: Path, words: list[str], said: str
) -> None:
    table = a_table(tmp_path, "Day,Where,What,Amount\n")
    refused = asking("import", "--csv", table, *words)
    assert refused.exit_code == 2
    assert said in refused.output


def test_a_field_of_another_kind_is_named(asking: Run, today: date, tmp_path: Path) -> None:
    table = a_table(tmp_path, f"Day,What,L\n{today},rain,4\n")
    columns = "date=Day,kind=What,volume_l=L"
    refused = asking("import", "--csv", table, "--columns", columns)
    assert refused.exit_code == 1
    assert "line 2: L: rain has no field volume_l. Its fields are:" in refused.stderr


def test_import_of_nothing_or_of_two_things_is_refused(asking: Run, tmp_path: Path) -> None:
    table = a_table(tmp_path, "Day\n")
    for words in ([], [table, "--csv", table]):
        refused = asking("import", *words)
        assert refused.exit_code == 2
        assert "Give one of FILE, --csv FILE and --weather FILE." in refused.output
