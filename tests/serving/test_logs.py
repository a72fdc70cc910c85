"""The log tells what happened, and nothing of what anyone wrote."""

import json
import logging
import threading
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import text

from shedbook.records.models import db
from shedbook.serving.app import Config, create_app, open_data
from shedbook.serving.logs import Formatter, start_logging
from tests.api.builders import Clock, Phone, a_garden, a_phone

Written = Callable[[], str]
Log = Callable[[], list[dict[str, Any]]]
NAME, NOTE, PHONE = "Ana Perejil", "Dew under the vine of Uncle Tomasz", "Ana's red telephone"


@pytest.fixture
def written(capsys: pytest.CaptureFixture[str]) -> Written:
    """All of the error output so far."""
    parts: list[str] = []

    def read() -> str:
        parts.append(capsys.readouterr().err)
        return "".join(parts)

    return read


@pytest.fixture
def log(written: Written, monkeypatch: pytest.MonkeyPatch) -> Iterator[Log]:
    """Everything that the shed logs, as the objects that its lines are."""
    root = logging.getLogger()
    before = list(root.handlers)
    monkeypatch.setattr(threading, "excepthook", threading.excepthook)
    start_logging("debug", "json")
    yield lambda: [json.loads(line) for line in written().splitlines()]
    root.handlers = before
    logging.getLogger("shedbook").setLevel(logging.NOTSET)
    logging.captureWarnings(False)


@pytest.fixture
def app(tmp_path: Any) -> Flask:
    return create_app(Config(open_data(tmp_path / "data"), clock_ms=Clock()))


@pytest.fixture
def lead(app: Flask) -> Phone:
    return a_phone(app, a_garden(app, "Perejil's garden"), "lead", NAME)


def requests_in(told: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [line for line in told if line["event"] == "request"]


def test_a_request_is_a_line_with_its_route_and_no_address(log: Log, lead: Phone) -> None:
    lead.sync([lead.entry()])
    (line,) = [one for one in requests_in(log()) if one["route"].endswith("/sync")]
    assert line["route"] == "/api/gardens/<garden>/sync"
    assert (line["method"], line["status"], line["level"]) == ("POST", 200, "info")
    assert line["garden"] == lead.garden
    assert line["ms"] >= 0
    assert set(line) == {
        *("time", "level", "event", "method", "route", "request", "garden", "status", "ms")
    }


def test_a_push_and_its_failure_log_no_name_note_secret_address_or_query(
    log: Log, written: Written, app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    cookie = lead.client.get_cookie("shedbook_device")
    assert cookie is not None
    entry = lead.entry(details={"text": NOTE})
    lead.sync([entry])

    def fail(*_: object, **__: object) -> None:
        try:
            db.session.execute(text("INSERT INTO gardens (name) VALUES (:name)"), {"name": NOTE})
        except Exception as error:
            raise KeyError(NOTE) from error

    monkeypatch.setattr("shedbook.api.sync.exchange", fail)
    body = {"notebook": lead.notebook, "entries": [entry]}
    given = {"environ_overrides": {"REMOTE_ADDR": "192.168.7.77"}, "query_string": {"q": "Tomasz"}}
    assert lead.post("/sync", body, **given).status_code == 500
    lead.client.get("/Ana/Perejil?token=Tomasz")
    lead.client.get("/api/gardens/Perejil/findings")

    told = written()
    hidden = [*NAME.split(), "Tomasz", "vine", "telephone", "192.168", cookie.value, lead.device]
    assert [one for one in hidden if one in told] == []
    assert entry["id"] not in told
    (failure,) = [line for line in log() if line["event"] == "failed"]
    assert failure["route"] == "/api/gardens/<garden>/sync"
    kinds = [error["kind"] for error in failure["errors"]]
    assert kinds[0] == "KeyError"
    assert any("SQLITE_CONSTRAINT_NOTNULL" in kind for kind in kinds)
    assert any(":fail:" in frame for frame in failure["errors"][0]["trace"])
    (request,) = [line for line in requests_in(log()) if line["status"] == 500]
    assert request["request"] == failure["request"]
    assert [line["route"] for line in requests_in(log())][-2] == "unknown"


def test_what_a_library_says_is_told_by_its_place_alone(log: Log) -> None:
    try:
        raise ValueError(NOTE)
    except ValueError:
        logging.getLogger("waitress").exception("Exception while serving /%s", NAME)
    (line,) = log()
    assert line["event"] == "library"
    assert line["place"].startswith("waitress:")
    assert line["errors"][0]["kind"] == "ValueError"
    assert NAME not in json.dumps(line)
    assert NOTE not in json.dumps(line)


def test_a_thread_that_breaks_is_told_without_its_words(log: Log, written: Written) -> None:
    def fail() -> None:
        raise ValueError(NOTE)

    thread = threading.Thread(target=fail)
    thread.start()
    thread.join()
    (line,) = log()
    assert (line["event"], line["errors"][0]["kind"]) == ("thread failed", "ValueError")
    assert NOTE not in written()


def test_files_and_questions_after_health_are_told_at_debug_only(log: Log, app: Flask) -> None:
    client = app.test_client()
    for path in ("/", "/healthz", "/readyz", "/manifest.webmanifest"):
        client.get(path)
    assert {line["level"] for line in requests_in(log())} == {"debug"}


def test_text_form_has_the_same_facts_in_one_line() -> None:
    record = logging.LogRecord("shedbook.x", logging.INFO, "x.py", 1, "request", (), None)
    record.facts = {"status": 200, "route": "/api/session"}
    line = Formatter("text").format(record)
    assert line.endswith("Z info request status=200 route=/api/session")
