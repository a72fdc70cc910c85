"""A round of the phone with the shed, where something goes wrong in the middle of it."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

RUNNER = Path(__file__).parents[2] / "twins" / "rounds.mjs"


def play(scenario: str, **given: Any) -> dict[str, Any]:
    """What a scenario of tests/twins/rounds.mjs comes to."""
    asked = json.dumps({"scenario": scenario, **given})
    command = [shutil.which("node") or "node", str(RUNNER), asked]
    ran = subprocess.run(command, capture_output=True, check=False, timeout=60)
    assert ran.returncode == 0, ran.stderr.decode()
    told: dict[str, Any] = json.loads(ran.stdout)
    return told


def test_answer_after_the_phone_left_is_not_stored_and_rejoining_brings_the_whole_log() -> None:
    assert play("left_during_a_pull") == {"cursor": None, "at_shed": 4, "on_phone": 4}


@pytest.mark.parametrize(
    ("grows", "says_highest"),
    [(False, False), (False, True), (True, True)],
    ids=["shorter-log-older-shed", "shorter-log", "grown-past-the-cursor"],
)
def test_shed_put_back_from_a_copy_of_its_files_gets_everything_again(
    grows: bool, says_highest: bool
) -> None:
    told = play("files_put_back", grows=grows, says_highest=says_highest)
    assert len(told["at_shed"]) == told["written"]
    assert told["on_phone"] == told["at_shed"]


def test_shed_put_back_without_a_word_gets_its_photos_again() -> None:
    told = play("photos_put_back")
    assert told == {"sent": [1, 1], "asked": [False, True]}


def test_entry_whose_answer_was_lost_counts_as_arrived_once_the_log_brings_it_back() -> None:
    assert play("answer_lost") == {"attention": [], "waiting": 0, "in_log": True}


@pytest.mark.parametrize("code", ["no_room", "read_only"])
def test_entries_wait_unblamed_while_the_shed_cannot_store_and_news_still_comes(code: str) -> None:
    told = play("shed_is_full", code=code)
    assert told["failed"] == code
    assert told["meanwhile"] == {"waiting": 3, "on_phone": 4}
    assert told["at_last"] == {"waiting": 0, "at_shed": 4}
    assert told["attention"] == []


def test_taking_back_what_is_held_waits_for_it() -> None:
    told = play("held_and_taken_back")
    assert told == {"meanwhile": ["other"], "at_last": ["other", "entry", "void"]}


def test_number_mended_away_before_sending_is_told_to_the_shed_once() -> None:
    told = play("mended_before_sending")
    assert told["told"] == [None, [told["number"]]]
    assert told["missing"] == []
    assert told["asked"] == 3


@pytest.mark.parametrize("is_sent", [True, False], ids=["refused", "not-sent-yet"])
def test_own_entry_whose_id_another_has_keeps_its_text_and_the_logs_is_folded(
    is_sent: bool,
) -> None:
    assert play("same_id_other_content", is_sent=is_sent) == {
        "result": "refused",
        "mine": "mine",
        "folded": "theirs",
        "waiting": 0,
        "after_leaving": "mine",
    }
