"""`shedbook garden`, `pair`, `sign-in`, `export` and choosing among gardens."""

import json
import re
from pathlib import Path

import pytest

from shedbook.cli.main import main
from shedbook.cli.opening import open_shed
from tests.cli.conftest import Run


def spend(code: str) -> dict[str, object]:
    """What the shed answers to a device that brings this code."""
    client = open_shed(None).test_client()
    answer = client.post(
        "/api/session", json={"code": code, "device_name": "Test"}, headers={"X-Shedbook": "1"}
    )
    assert answer.status_code == 201, answer.get_data(as_text=True)
    read: dict[str, object] = answer.get_json()
    return read


def test_garden_new_then_list_shows_it(run: Run) -> None:
    assert run("garden", "list").stdout.startswith("No garden yet.")
    assert "sign-in" in run("garden", "new", "Test garden", "--zone", "Europe/Madrid").stdout
    assert "Test garden  Europe/Madrid  0 entries" in run("garden", "list").stdout


def test_garden_new_with_an_unknown_zone_is_refused(run: Run) -> None:
    refused = run("garden", "new", "Test garden", "--zone", "Madrid")
    assert refused.exit_code == 2
    assert "Write it like Europe/Madrid." in refused.output
    assert run("garden", "list").stdout.startswith("No garden yet.")


def test_garden_new_without_a_zone_takes_the_machines(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TZ", "America/Denver")
    run("garden", "new", "Test garden")
    assert "America/Denver" in run("garden", "list").stdout


def test_pair_prints_a_code_a_link_and_a_picture_that_pair_a_helper(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    printed = run("pair", "--name", "Ann", "--origin", "https://shed.example:8443").stdout
    link = re.search(r"https://shed\.example:8443/#/join/(\w+)", printed)
    assert link is not None
    assert "█" in printed
    assert f"{link[1][:4]} {link[1][4:]}" in printed
    session = spend(link[1])
    assert session["role"] == "helper"


def test_pair_of_a_name_in_another_role_is_refused(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    run("pair", "--name", "Ann")
    refused = run("pair", "--name", "Ann", "--role", "reader")
    assert refused.exit_code == 1
    assert "Choose another name or that role." in refused.output


def test_sign_in_prints_a_link_that_pairs_the_lead_once(run: Run) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    link = re.search(r"#/join/([\w-]+)", run("sign-in").stdout)
    assert link is not None
    assert spend(link[1])["role"] == "lead"


def test_two_gardens_without_a_choice_are_listed(run: Run) -> None:
    for name in ("North", "South"):
        run("garden", "new", name, "--zone", "UTC")
    refused = run("export")
    assert refused.exit_code == 2
    assert "North" in refused.output
    assert "South" in refused.output
    assert run("export", "--garden", "South").exit_code == 0
    assert "No garden is called East" in run("export", "--garden", "East").output


def test_export_to_a_file_writes_one_json_object_a_line(run: Run, tmp_path: Path) -> None:
    run("garden", "new", "Test garden", "--zone", "UTC")
    for depth in (3, 7):
        run("record", "rain", f"depth_mm={depth}")
    target = tmp_path / "out.jsonl"
    assert run("export", "-o", str(target)).exit_code == 0
    lines = [json.loads(line) for line in target.read_text(encoding="utf-8").splitlines()]
    assert [(line["seq"], line["details"]) for line in lines] == [
        (1, {"depth_mm": 3}),
        (2, {"depth_mm": 7}),
    ]


def test_help_of_every_command_says_what_it_does(run: Run) -> None:
    for command in main.commands:
        shown = run(command, "--help")
        assert shown.exit_code == 0
        assert len(shown.stdout.splitlines()) > 5, command


def test_a_folder_that_cannot_be_made_is_said_in_words(run: Run, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    refused = run("garden", "list", "--data", str(tmp_path / "file" / "below"))
    assert refused.exit_code == 1
    assert "--data" in refused.output
