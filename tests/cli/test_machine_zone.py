"""The machine's time zone, told by its environment or by its files."""

from pathlib import Path

import pytest

from shedbook.cli import machine_zone
from shedbook.cli.machine_zone import find_machine_zone
from tests.cli.conftest import Run


@pytest.fixture
def untold(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A machine that tells its zone nowhere; the file in which it could."""
    monkeypatch.delenv("TZ", raising=False)
    monkeypatch.setattr(machine_zone, "_LINK", tmp_path / "localtime")
    monkeypatch.setattr(machine_zone, "_NAME", tmp_path / "timezone")
    return tmp_path / "timezone"


def test_find_machine_zone_when_told_nowhere_is_none(untold: Path) -> None:
    assert find_machine_zone() is None


def test_find_machine_zone_from_a_file_gives_its_name(untold: Path) -> None:
    untold.write_text("Europe/Madrid\n", encoding="utf-8")
    assert find_machine_zone() == "Europe/Madrid"


def test_find_machine_zone_passes_over_a_name_that_is_no_zone(
    untold: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    untold.write_text("Europe/Madrid\n", encoding="utf-8")
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    assert find_machine_zone() == "Europe/Madrid"


def test_find_machine_zone_follows_the_link(untold: Path) -> None:
    zone = untold.parent / "zoneinfo" / "America" / "Denver"
    zone.parent.mkdir(parents=True)
    zone.touch()
    (untold.parent / "localtime").symlink_to(zone)
    assert find_machine_zone() == "America/Denver"


def test_garden_new_on_a_machine_without_a_zone_says_what_it_takes(run: Run, untold: Path) -> None:
    made = run("garden", "new", "Test garden")
    assert "the garden takes UTC" in made.stderr
    assert "UTC" in run("garden", "list").stdout


def test_version_is_printed(run: Run) -> None:
    assert run("--version").stdout.startswith("Shedbook ")
