"""What the phone writes down, where its storage refuses for a while."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

RUNNER = Path(__file__).parents[2] / "twins" / "pen.mjs"
HOUR_S = 3600


def play(scenario: str, **given: Any) -> dict[str, Any]:
    """What a scenario of tests/twins/pen.mjs comes to."""
    asked = json.dumps({"scenario": scenario, **given})
    command = [shutil.which("node") or "node", str(RUNNER), asked]
    ran = subprocess.run(command, capture_output=True, check=False, timeout=60)
    assert ran.returncode == 0, ran.stderr.decode()
    told: dict[str, Any] = json.loads(ran.stdout)
    return told


@pytest.mark.parametrize(
    ("at", "held"),
    [
        ([0, 3, 60], ["05:00:00"]),
        ([0, 61], ["05:00:00", "05:01:01"]),
        ([0, 3 * HOUR_S, 10 * HOUR_S], ["05:00:00", "08:00:00", "15:00:00"]),
    ],
    ids=["impatient", "a-minute-later", "morning-noon-and-evening"],
)
def test_equal_taps_while_storage_refuses_are_one_within_a_minute_and_work_done_again_later(
    at: list[int], held: list[str]
) -> None:
    told = play("taps", at=at)
    assert told == {"failed": ["NotSaved"] * len(at), "held": held, "written": len(held)}


@pytest.mark.parametrize("tap_is_first", [False, True])
def test_held_entry_that_is_tapped_again_while_it_is_saved_is_written_once_and_told_so(
    tap_is_first: bool,
) -> None:
    told = play("tapped_while_the_rest_is_saved", tap_is_first=tap_is_first)
    assert told == {"failed": None, "held": 0, "written": 1}
