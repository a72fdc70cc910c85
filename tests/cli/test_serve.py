"""`shedbook serve` and `shedbook demo` as programs of their own: started, asked, stopped."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from shedbook import places

STARTED_WITHIN_S = 90
RUN = "from shedbook.cli.main import main; main(prog_name='shedbook')"


def a_free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("localhost", 0))
        port: int = probe.getsockname()[1]
    return port


def environment_of(folder: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    return {
        **kept,
        "SHEDBOOK_DATA": str(folder / "data"),
        "PYTHONPATH": str(places.ROOT / "server"),
        "PYTHONUNBUFFERED": "1",
    }


@contextmanager
def running(folder: Path, *words: str, within: Sequence[str] = ()) -> Iterator[str]:
    """A started program, as soon as it has told its address; what it has printed by then.

    `within` is the command that runs it elsewhere, such as in another network.
    """
    printed = folder / "printed.txt"
    # To a file: a child that holds a pipe of ours would hang the run when a test fails.
    with printed.open("w", encoding="utf-8") as output:
        program = subprocess.Popen(
            [*within, sys.executable, "-c", RUN, *words],
            stdout=output,
            stderr=subprocess.STDOUT,
            env=environment_of(folder),
            cwd=folder,
        )
    try:
        yield wait_for_address(program, printed)
        program.send_signal(signal.SIGTERM)
        assert program.wait(30) == 0, printed.read_text(encoding="utf-8")
    finally:
        program.kill()
        program.wait()


def wait_for_address(program: "subprocess.Popen[bytes]", printed: Path) -> str:
    until = time.monotonic() + STARTED_WITHIN_S
    while time.monotonic() < until:
        text = printed.read_text(encoding="utf-8")
        if "stop it with Ctrl+C" in text and text.rstrip().endswith((").", "stop it.")):
            return text
        assert program.poll() is None, text
        time.sleep(0.1)
    raise AssertionError(f"No address after {STARTED_WITHIN_S} s: {printed.read_text('utf-8')}")


def get_json(address: str) -> Any:
    with urllib.request.urlopen(address, timeout=30) as answer:
        return json.load(answer)


def sign_in(origin: str, code: str) -> dict[str, Any]:
    asked = urllib.request.Request(
        f"{origin}/api/session",
        data=json.dumps({"code": code, "device_name": "Test"}).encode(),
        headers={"Content-Type": "application/json", "X-Shedbook": "1", "Origin": origin},
    )
    with urllib.request.urlopen(asked, timeout=30) as answer:
        read: dict[str, Any] = json.load(answer)
    return read


def test_serve_the_first_time_makes_a_garden_and_lets_its_lead_in(tmp_path: Path) -> None:
    port = a_free_port()
    with running(tmp_path, "serve", "--port", str(port)) as printed:
        link = re.search(r"(http://localhost:\d+)/#/join/([\w-]+)", printed)
        assert link is not None, printed
        assert link[1] == f"http://localhost:{port}"
        assert get_json(f"{link[1]}/healthz")
        session = sign_in(link[1], link[2])
        assert (session["garden"]["name"], session["role"]) == ("My garden", "lead")
    with running(tmp_path, "serve", "--port", str(port)) as again:
        assert "#/join/" not in again
        assert f"http://localhost:{port}" in again


def test_serve_on_a_port_that_is_taken_says_which_else(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        refused = subprocess.run(
            [sys.executable, "-c", RUN, "serve", "--host", "127.0.0.1", "--port", str(port)],
            env=environment_of(tmp_path),
            capture_output=True,
            text=True,
            timeout=STARTED_WITHIN_S,
            check=False,
        )
    assert refused.returncode == 1
    assert f"Port {port} is used by another program. Choose another with --port" in refused.stderr


def test_demo_shows_a_season_to_its_lead_and_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    with running(tmp_path, "demo", "--port", "0", "--no-open") as printed:
        link = re.search(r"(http://localhost:\d+)/#/join/([\w-]+)", printed)
        assert link is not None, printed
        assert re.search(r"helper's phone: +\w{4} \w{4}", printed)
        session = sign_in(link[1], link[2])
        assert (session["garden"]["name"], session["role"]) == ("Wrenhollow", "lead")
    assert not list(tmp_path.glob("shedbook-demo-*"))
    assert not (tmp_path / "data").exists()
