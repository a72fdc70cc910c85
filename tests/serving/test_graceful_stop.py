"""SIGTERM: what is under way gets its answer, within a bounded time, and the store is whole."""

import signal
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from shedbook.places import LOG_FILE
from shedbook.serving.waitress_server import STOP_S
from tests.cli.test_serve import RUN, a_free_port, environment_of, wait_for_address
from tests.sync.process import ShedProcess

BODY = b'{"code": "ABCDEFGH", "device_name": "x"}'


def request_of(host: str, origin: str) -> bytes:
    """A pairing with a code that nobody has: the shed's own answer shows that it was read.

    The head alone is answered too, so that a test knows when the shed has begun to read.
    """
    lines = [
        "POST /api/session HTTP/1.1",
        f"Host: {host}",
        f"Origin: {origin}",
        "X-Shedbook: 1",
        "Content-Type: application/json",
        f"Content-Length: {len(BODY)}",
        "Expect: 100-continue",
    ]
    return "\r\n".join([*lines, "", ""]).encode()


def answer_on(connection: socket.socket) -> bytes:
    """All that comes until the other side closes."""
    parts = []
    while part := connection.recv(65_536):
        parts.append(part)
    return b"".join(parts)


@contextmanager
def shed_of(folder: Path, *words: str) -> Iterator["subprocess.Popen[bytes]"]:
    printed = folder / "printed.txt"
    with printed.open("w", encoding="utf-8") as output:
        program = subprocess.Popen(
            [sys.executable, "-c", RUN, "serve", *words],
            stdout=output,
            stderr=subprocess.STDOUT,
            env=environment_of(folder),
            cwd=folder,
        )
    try:
        wait_for_address(program, printed)
        yield program
    finally:
        program.kill()
        program.wait()


def finish_after_the_signal(
    program: "subprocess.Popen[bytes]", connection: socket.socket, head: bytes, port: int
) -> bytes:
    """Half of a request, the signal, then the other half, byte by byte; the answer."""
    connection.sendall(head + BODY[:10])
    wait_until_it_is_being_read(connection)
    program.send_signal(signal.SIGTERM)
    wait_until_nobody_is_let_in(port)
    for place in range(10, len(BODY)):
        connection.sendall(BODY[place : place + 1])
        time.sleep(0.01)
    return answer_on(connection)


def wait_until_it_is_being_read(connection: socket.socket) -> None:
    go_on = b"HTTP/1.1 100 Continue\r\n\r\n"
    heard = b""
    while len(heard) < len(go_on):
        part = connection.recv(len(go_on) - len(heard))
        assert part, "the shed closed the connection"
        heard += part
    assert heard == go_on


def wait_until_nobody_is_let_in(port: int) -> None:
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=5).close()
        except OSError:
            return
        time.sleep(0.02)
    raise AssertionError("the shed goes on taking connections")


def test_a_slow_upload_is_answered_after_sigterm_and_the_store_is_one_file(tmp_path: Path) -> None:
    port = a_free_port()
    with (
        shed_of(tmp_path, "--host", "127.0.0.1", "--port", str(port)) as program,
        socket.create_connection(("127.0.0.1", port), timeout=30) as connection,
    ):
        head = request_of(f"localhost:{port}", f"http://localhost:{port}")
        answer = finish_after_the_signal(program, connection, head, port)
        assert answer.startswith(b"HTTP/1.1 422"), answer
        assert b"No open invitation" in answer
        assert program.wait(30) == 0
    assert [file.name for file in (tmp_path / "data").iterdir()] == [LOG_FILE]


def test_a_slow_upload_over_https_is_answered_after_sigterm(tmp_path: Path) -> None:
    port = a_free_port()
    words = ["--lan", "--no-announce", "--name", "bean-shed"]
    words += ["--port", str(port), "--trust-port", str(a_free_port())]
    with shed_of(tmp_path, *words) as program:
        authority = tmp_path / "data" / "https" / "authority.pem"
        context = ssl.create_default_context(cafile=authority)
        with (
            socket.create_connection(("127.0.0.1", port), timeout=30) as plain,
            context.wrap_socket(plain, server_hostname="bean-shed.local") as connection,
        ):
            name = f"bean-shed.local:{port}"
            head = request_of(name, f"https://{name}")
            answer = finish_after_the_signal(program, connection, head, port)
        assert answer.startswith(b"HTTP/1.1 422"), answer
        assert b"No open invitation" in answer
        assert program.wait(30) == 0
    assert sorted(file.name for file in (tmp_path / "data").iterdir()) == ["https", LOG_FILE]


def test_an_idle_connection_does_not_keep_the_shed_from_stopping(tmp_path: Path) -> None:
    port = a_free_port()
    with (
        shed_of(tmp_path, "--host", "127.0.0.1", "--port", str(port)) as program,
        socket.create_connection(("127.0.0.1", port), timeout=30) as idle,
    ):
        began = time.monotonic()
        program.send_signal(signal.SIGTERM)
        assert program.wait(30) == 0
        assert time.monotonic() - began < STOP_S
        assert idle.recv(1) == b""


def test_an_upload_that_never_ends_is_cut_off(tmp_path: Path) -> None:
    port = a_free_port()
    with (
        shed_of(tmp_path, "--host", "127.0.0.1", "--port", str(port)) as program,
        socket.create_connection(("127.0.0.1", port), timeout=30) as endless,
    ):
        endless.sendall(request_of("localhost", f"http://localhost:{port}") + BODY[:10])
        wait_until_it_is_being_read(endless)
        program.send_signal(signal.SIGTERM)
        assert program.wait(STOP_S + 20) == 0


def test_answers_to_pushes_under_way_are_not_lost(tmp_path: Path) -> None:
    shed = ShedProcess(tmp_path)
    try:
        shed.start()
        phone = shed.pair("lead", "Ana")
        entries = [phone.pen.entry() for _ in range(300)]
        with shed.connect() as connection:
            connection.sendall(phone.request_bytes(entries))
            assert shed.end(signal.SIGTERM) == 0
            answer = answer_on(connection)
        assert answer.startswith(b"HTTP/1.1 200")
        assert answer.count(b'"accepted"') == 300
    finally:
        shed.close()


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_the_log_says_that_it_started_and_stopped(tmp_path: Path, how: signal.Signals) -> None:
    port = a_free_port()
    with shed_of(tmp_path, "--port", str(port), "--log-format", "json") as program:
        program.send_signal(how)
        assert program.wait(30) == 0
    printed = (tmp_path / "printed.txt").read_text(encoding="utf-8")
    assert '"level": "info", "event": "started"' in printed
    assert '"event": "stopped", "cut_off": 0' in printed
