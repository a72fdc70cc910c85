"""`shedbook serve --lan` as a program of its own, reached as a phone on the network reaches it."""

import socket
import ssl
import urllib.request
from pathlib import Path

from tests.cli.conftest import Run
from tests.cli.test_serve import a_free_port, running


def on_the_network(port: int, trust_port: int) -> list[str]:
    """The command, without telling any network of it."""
    words = ["serve", "--lan", "--no-announce", "--name", "bean-shed"]
    return [*words, "--port", str(port), "--trust-port", str(trust_port)]


def answer_by_name(port: int, context: ssl.SSLContext, name: str) -> str:
    """The first line that the shed answers under a name, without this machine's multicast DNS."""
    with (
        socket.create_connection(("127.0.0.1", port), timeout=30) as plain,
        context.wrap_socket(plain, server_hostname=name) as secure,
    ):
        secure.sendall(f"GET /healthz HTTP/1.1\r\nHost: {name}:{port}\r\n\r\n".encode())
        return secure.recv(4096).decode().splitlines()[0]


def test_the_shed_answers_under_its_name_to_who_trusts_its_authority(tmp_path: Path) -> None:
    port, trust_port = a_free_port(), a_free_port()
    with running(tmp_path, *on_the_network(port, trust_port)) as printed:
        assert f"https://bean-shed.local:{port}/#/join/" in printed
        page = urllib.request.urlopen(f"http://localhost:{trust_port}/", timeout=30).read().decode()
        fingerprint = printed.split("fingerprint is")[1].split()[0]
        assert fingerprint in page
        handed_out = urllib.request.urlopen(
            f"http://localhost:{trust_port}/shedbook-authority.crt", timeout=30
        ).read()
        context = ssl.create_default_context(cadata=handed_out)
        assert answer_by_name(port, context, "bean-shed.local") == "HTTP/1.1 200 OK"


def test_pairing_codes_lead_to_the_name_that_was_fixed(tmp_path: Path, run: Run) -> None:
    port, trust_port = a_free_port(), a_free_port()
    with running(tmp_path, *on_the_network(port, trust_port)):
        pass
    paired = run("pair", "--name", "Ana's phone")
    assert f"https://bean-shed.local:{port}/#/join/" in paired.output


def test_another_name_is_refused_in_words(tmp_path: Path, run: Run) -> None:
    port, trust_port = a_free_port(), a_free_port()
    with running(tmp_path, *on_the_network(port, trust_port)):
        pass
    refused = run("serve", "--lan", "--name", "other-shed")
    assert refused.exit_code == 1
    assert "empty notebook" in refused.output
