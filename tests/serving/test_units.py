"""The systemd units in docs/examples: read by systemd's own checker, true to the commands."""

from __future__ import annotations

import re
import shlex
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from shedbook import places
from shedbook.serving.tls_front import Limits
from shedbook.serving.waitress_server import STOP_S
from tests.cli.conftest import Run, shared_run

EXAMPLES = places.ROOT / "docs" / "examples"
UNITS = sorted(EXAMPLES.glob("*.service")) + sorted(EXAMPLES.glob("*.timer"))
PROGRAM = "/opt/shedbook/bin/shedbook"
# systemd's own measure from 0 to 10, times ten: below 2 it calls a service well shut off.
MOST_EXPOSED = 19


@pytest.fixture
def run(tmp_path: Path) -> Iterator[Run]:
    yield from shared_run(tmp_path)


def commands() -> list[list[str]]:
    """Every command in the units, also the ones that stand there to be chosen."""
    texts = [unit.read_text(encoding="utf-8") for unit in UNITS]
    lines = [line for text in texts for line in re.findall(r"^(?:# )?ExecStart=(.*)$", text, re.M)]
    return [shlex.split(line) for line in lines]


def installed(folder: Path) -> list[Path]:
    """The units as the checker takes them, with a program that is there."""
    made = []
    for unit in UNITS:
        copy = folder / unit.name
        copy.write_text(unit.read_text(encoding="utf-8").replace(PROGRAM, "/bin/true"))
        made.append(copy)
    return made


@pytest.mark.systemd
def test_systemd_finds_no_fault_in_the_units(tmp_path: Path) -> None:
    units = installed(tmp_path)
    checked = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", *units],
        capture_output=True,
        text=True,
        check=False,
    )
    said = checked.stdout + checked.stderr
    assert checked.returncode == 0, said
    # A name that systemd does not know is only told, not refused.
    assert not [line for line in said.splitlines() if str(tmp_path) in line], said


@pytest.mark.systemd
def test_systemd_calls_the_services_well_shut_off(tmp_path: Path) -> None:
    for unit in installed(tmp_path):
        if unit.suffix == ".service":
            command = ["systemd-analyze", "security", "--offline=true", "--no-pager"]
            threshold = f"--threshold={MOST_EXPOSED}"
            asked = subprocess.run(
                [*command, threshold, unit], capture_output=True, text=True, check=False
            )
            assert asked.returncode == 0, asked.stdout[-300:] + asked.stderr


def test_the_units_call_commands_and_options_that_exist(run: Run) -> None:
    assert len(commands()) == 3
    for program, *words in commands():
        assert program == PROGRAM
        told = run(*words, "--help")
        assert told.exit_code == 0, told.output


def test_systemd_waits_longer_than_a_stop_takes() -> None:
    unit = (EXAMPLES / "shedbook.service").read_text(encoding="utf-8")
    waits = re.search(r"^TimeoutStopSec=(\d+)$", unit, re.M)
    assert waits is not None
    assert int(waits[1]) > STOP_S + 2 * Limits().stop_s
