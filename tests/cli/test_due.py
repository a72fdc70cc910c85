"""`shedbook due`: the same findings in the same words as the API, the most pressing first."""

import json
import re
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from shedbook.cli.due import STATES
from shedbook.cli.opening import open_shed
from shedbook.records.engine import now_ms
from tests.cli.builders import a_bed, a_planting
from tests.cli.conftest import Run, shared_run


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Run]:
    """One folder for all tests here: they only ask."""
    yield from shared_run(tmp_path_factory.mktemp("due"))


@pytest.fixture(scope="module")
def garden(run: Run) -> str:
    """A garden with peppers in one bed; the bed's id."""
    run("garden", "new", "Test garden", "--zone", "UTC")
    bed = a_bed("Long bed")
    a_bed("Empty bed")
    a_planting(bed, "pepper", "long mild red", 24)
    return bed


def in_days(days: int) -> str:
    moment = datetime.fromtimestamp(now_ms() / 1000 + days * 86_400, UTC)
    return moment.date().isoformat()


def test_due_lists_by_how_pressing_it_is(run: Run, garden: str) -> None:
    listed = json.loads(run("due", "--json", "--today", in_days(60)).stdout)
    places = [STATES.index(one["state"]) for one in listed]
    assert places == sorted(places)
    assert len(set(places)) > 1


def test_due_in_json_equals_what_the_api_answers(run: Run, garden: str) -> None:
    today = in_days(60)
    listed = json.loads(run("due", "--json", "--today", today).stdout)
    code = re.search(r"#/join/([\w-]+)", run("sign-in").stdout)
    assert code is not None
    client = open_shed(None).test_client()
    session = client.post(
        "/api/session", json={"code": code[1], "device_name": "T"}, headers={"X-Shedbook": "1"}
    ).get_json()
    path = f"/api/gardens/{session['garden']['id']}/findings?today={today}"
    answered = client.get(path).get_json()["findings"]
    without_hours = [
        [
            {**one, "message": None, "reasons": None, "text": one["text"]["title"]}
            for one in findings
        ]
        for findings in (sorted(listed, key=lambda one: one["key"]), answered)
    ]
    assert without_hours[0] == without_hours[1]


def test_due_in_words_shows_place_title_message_and_key(run: Run, garden: str) -> None:
    shown = run("due", "--state", "overdue", "--today", in_days(60)).stdout
    assert "Long bed, long mild red (pepper): Side-dress" in shown
    assert "32 days ago" in shown
    assert "side_dress/planting:" in shown


def test_due_of_an_empty_bed_says_so(run: Run, garden: str) -> None:
    assert "Nothing to tell." in run("due", "--bed", "empty bed").stdout


def test_due_why_shows_arithmetic_source_and_entries(run: Run, garden: str) -> None:
    shown = run("due", "--why", "side_dress/", "--today", in_days(30)).stdout
    assert "28 days later is" in shown
    assert "Source: Common practice, no source." in shown
    assert "Entries: " in shown


def test_due_why_of_an_unknown_key_is_refused(run: Run, garden: str) -> None:
    refused = run("due", "--why", "no/such/key")
    assert refused.exit_code == 2
    assert "No finding has the key no/such/key." in refused.output


def test_due_why_of_several_keys_lists_them(run: Run, garden: str) -> None:
    refused = run("due", "--why", "planting", "--today", in_days(60))
    assert refused.exit_code == 2
    assert "Choose one" in refused.output


def test_due_today_in_another_form_is_refused(run: Run, garden: str) -> None:
    refused = run("due", "--today", "1.6.2026")
    assert refused.exit_code == 2
    assert "A date is written like 2026-06-01." in refused.output


def test_due_says_as_of_when_and_which_device_was_not_heard(run: Run, garden: str) -> None:
    code = re.search(r"#/join/([\w-]+)", run("pair", "--name", "Quiet").stdout)
    assert code is not None
    joining = {"code": code[1], "device_name": "Quiet phone"}
    client = open_shed(None).test_client()
    session = client.post("/api/session", json=joining, headers={"X-Shedbook": "1"}).get_json()
    assert "As known on " in run("due").stdout
    assert "Quiet phone: not heard yet" in run("due").stdout
    path = f"/api/gardens/{session['garden']['id']}/findings"
    named = [device["name"] for device in client.get(path).get_json()["devices"]]
    assert "Quiet phone" in named
