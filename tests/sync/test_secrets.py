"""Over the whole life of a shed its secrets stand in no log, no address and no file."""

import json
import re
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.api.builders import HEADERS
from tests.sync.process import PATIENCE_S, REQUEST_S, ROOT, free_port

RUN = "from shedbook.cli.main import main; main(prog_name='shedbook')"
LINK = re.compile(r"(http://[^/\s]+)/#/join/(\S+)")


class ServedShed:
    """`shedbook serve` as a person starts it, with all that it can say in its log."""

    def __init__(self, folder: Path) -> None:
        self.data = folder / "data"
        self.told = folder / "told.txt"
        self.log = folder / "log.txt"
        self.process: subprocess.Popen[bytes] | None = None
        self.origin = ""

    def start(self) -> None:
        port = str(free_port())
        words = ["serve", "--port", port, "--log-level", "debug", "--data", str(self.data)]
        with self.told.open("wb") as told, self.log.open("ab") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-P", "-c", RUN, *words],
                env={"PATH": "", "PYTHONPATH": str(ROOT / "server"), "PYTHONUNBUFFERED": "1"},
                stdin=subprocess.DEVNULL,
                stdout=told,
                stderr=log,
            )
        until = time.monotonic() + PATIENCE_S
        while (found := re.search(r"http://[\w.]+:\d+", self.told.read_text())) is None:
            assert self.process.poll() is None, self.log.read_text()
            assert time.monotonic() < until
            time.sleep(0.05)
        self.origin = found.group()

    def stop(self) -> None:
        if self.process is not None:
            self.process.send_signal(signal.SIGTERM)
            assert self.process.wait(PATIENCE_S) == 0
            self.process = None

    def ask(
        self, method: str, path: str, body: Any = None, cookie: str = ""
    ) -> tuple[int, str, Any, str]:
        """Status, cookie given, answer and headers, whatever the status."""
        sent = None if body is None else json.dumps(body).encode()
        headers = HEADERS | {"Content-Type": "application/json", "Cookie": cookie}
        request = urllib.request.Request(self.origin + path, sent, headers, method=method)
        try:
            response = urllib.request.urlopen(request, timeout=REQUEST_S)
        except urllib.error.HTTPError as error:
            response = error
        with response:
            given = (response.headers["Set-Cookie"] or "").split(";")[0]
            text = response.read().decode()
            del response.headers["Set-Cookie"]
            answer = json.loads(text) if text[:1] == "{" else None
            return response.status, given, answer, str(response.headers)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[ServedShed]:
    shed = ServedShed(tmp_path)
    try:
        shed.start()
        yield shed
    finally:
        if shed.process is not None:
            shed.process.kill()
            shed.process.wait()


def test_no_secret_of_a_shed_is_logged_stored_or_put_into_an_address(served: ServedShed) -> None:
    secrets, headers = _live(served)
    served.stop()
    told = served.told.read_text()
    assert len(LINK.findall(told)) == 1
    served.start()
    assert LINK.findall(served.told.read_text()) == []
    assert served.ask("GET", "/api/session", cookie=secrets["lead's cookie"])[0] == 200
    served.stop()
    log = served.log.read_text()
    assert log.count("request") > 10
    kept = b"".join(file.read_bytes() for file in served.data.rglob("*") if file.is_file())
    for name, secret in secrets.items():
        bare = secret.partition("=")[2] or secret
        assert len(bare) >= 8, name
        assert bare not in log, f"the {name} stands in the log"
        assert bare not in headers, f"the {name} stands in a header"
        assert bare.encode() not in kept, f"the {name} lies in the data"
        # The one-time link is told once, to who started the shed.
        assert (bare in told) == (name == "lead's link"), name


def _live(shed: ServedShed) -> tuple[dict[str, str], str]:
    """Every secret that a shed hands out, used rightly and wrongly; all headers it answered."""
    headers: list[str] = []

    def ask(*given: Any, **more: Any) -> tuple[int, str, Any]:
        status, cookie, answer, told = shed.ask(*given, **more)
        headers.append(told)
        return status, cookie, answer

    found = LINK.search(shed.told.read_text())
    assert found is not None
    secrets = {"lead's link": found.group(2)}
    spend = {"code": secrets["lead's link"], "device_name": "Ana's phone"}
    status, secrets["lead's cookie"], session = ask("POST", "/api/session", spend)
    assert status == 201
    garden, cookie = session["garden"]["id"], secrets["lead's cookie"]
    invite = {"name": "Bo", "role": "helper"}
    _, _, made = ask("POST", f"/api/gardens/{garden}/invitations", invite, cookie=cookie)
    secrets["helper's code"] = made["code"]
    spend = {"code": made["code"], "device_name": "Bo's phone"}
    _, secrets["helper's cookie"], helper = ask("POST", "/api/session", spend)
    secrets["guessed code"] = "ZZZZ9999"
    for code in (made["code"], secrets["guessed code"]):
        assert ask("POST", "/api/session", spend | {"code": code})[0] == 422
    # What a person may do with a secret by mistake.
    for secret in list(secrets.values()):
        ask("GET", f"/join/{secret}")
        ask("GET", f"/api/session?code={secret}")
        ask("POST", "/api/session", {"code": [secret], secret: secret})
        ask("GET", f"/api/gardens/{secret}/findings", cookie=cookie)
        ask("GET", "/api/session", cookie=f"shedbook_device={secret}")
    ask("GET", f"/api/gardens/{garden}/findings?today=2026-06-01", cookie=cookie)
    path = f"/api/gardens/{garden}/devices/{helper['device']['id']}"
    assert ask("DELETE", path, cookie=cookie)[0] == 204
    assert ask("GET", "/api/session", cookie=secrets["helper's cookie"])[0] == 401
    return secrets, "\n".join(headers)
