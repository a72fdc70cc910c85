"""The shed on one computer and a phone on another, with a cable between them and nothing else."""

from __future__ import annotations

import os
import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from shedbook.serving.authority import fingerprint
from tests import needs
from tests.cli.test_serve import running
from tests.serving.networks import PATIENCE_S, SHED_ADDRESS, Computer, two_computers

pytestmark = pytest.mark.networks

NAME = "bean-shed.local"
RESOLVE = """
import sys
from zeroconf import AddressResolverIPv4, Zeroconf
with Zeroconf() as network:
    found = AddressResolverIPv4(sys.argv[1] + '.')
    assert found.request(network, 20_000), 'nobody answers for ' + sys.argv[1]
    print(*found.parsed_addresses())
"""
ASK = """
import socket, ssl, sys, urllib.request
address, name, kept = sys.argv[1:]
page = urllib.request.urlopen(f'http://{address}:8081/shedbook-authority.crt', timeout=30)
authority = ssl.DER_cert_to_PEM_cert(page.read())
open(kept, 'w').write(authority)
context = ssl.create_default_context(cadata=authority)
plain = socket.create_connection((address, 8443), timeout=30)
with context.wrap_socket(plain, server_hostname=name) as secure:
    secure.sendall(f'GET /healthz HTTP/1.1\\r\\nHost: {name}:8443\\r\\n\\r\\n'.encode())
    print(secure.recv(4096).decode().splitlines()[0])
"""
BROWSE = """
import sys
from playwright.sync_api import expect, sync_playwright
program, folder, address, name, link = sys.argv[1:]
with sync_playwright() as playwright:
    browser = playwright.chromium.launch_persistent_context(
        folder, executable_path=program, args=[f'--host-resolver-rules=MAP {name} {address}']
    )
    page = browser.new_page()
    page.goto(link)
    expect(page.get_by_role('navigation')).to_be_visible(timeout=60_000)
    page.evaluate('navigator.serviceWorker.ready.then(() => undefined)')
    print('ready', page.evaluate('isSecureContext'), flush=True)
    sys.stdin.readline()
    page.reload()
    expect(page.get_by_role('navigation')).to_be_visible(timeout=60_000)
    print('reloaded', page.url, flush=True)
    browser.close()
"""


@dataclass(frozen=True)
class Reached:
    """What the shed printed, and where it and its phone are."""

    printed: str
    phone: Computer


@pytest.fixture
def reached(tmp_path: Path) -> Iterator[Reached]:
    words = ["serve", "--lan", "--name", "bean-shed"]
    with (
        two_computers() as (shed, phone),
        running(tmp_path, *words, within=shed.within) as printed,
    ):
        yield Reached(printed, phone)


def test_a_phone_finds_the_shed_by_its_name_and_believes_its_certificate(
    reached: Reached, tmp_path: Path
) -> None:
    assert reached.phone.python(RESOLVE, NAME) == SHED_ADDRESS
    kept = tmp_path / "phone.pem"
    assert reached.phone.python(ASK, SHED_ADDRESS, NAME, str(kept)) == "HTTP/1.1 200 OK"
    assert fingerprint(kept) in reached.printed


@pytest.mark.certutil
@pytest.mark.chromium
def test_a_browser_that_trusts_the_shed_opens_the_garden_with_the_cable_out(
    reached: Reached, tmp_path: Path
) -> None:
    home = trust_in_home(tmp_path / "home", tmp_path / "data" / "https" / "authority.pem")
    link = re.search(rf"https://{NAME}:8443/#/join/[\w-]+", reached.printed)
    assert link is not None
    words = [str(needs.find_browser()), str(tmp_path / "profile"), SHED_ADDRESS, NAME, link[0]]
    with (tmp_path / "browser.txt").open("w") as said:
        browsing = reached.phone.start(
            BROWSE, *words, stderr=said, env={**os.environ, "HOME": str(home)}
        )
    with browsing:
        try:
            assert browsing.stdout is not None
            assert browsing.stdout.readline() == "ready True\n", said_in(tmp_path)
            reached.phone.unplug()
            told, _ = browsing.communicate("cut\n", timeout=PATIENCE_S)
            assert told.startswith(f"reloaded https://{NAME}:8443/"), said_in(tmp_path)
        finally:
            browsing.kill()


def said_in(folder: Path) -> str:
    return (folder / "browser.txt").read_text()


def trust_in_home(home: Path, authority: Path) -> Path:
    """A home whose browsers believe the authority for websites."""
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True)
    database = ["-d", f"sql:{store}"]
    subprocess.run(["certutil", "-N", *database, "--empty-password"], check=True)
    trusting = ["-A", *database, "-t", "C,,", "-n", "shed", "-i", str(authority)]
    subprocess.run(["certutil", *trusting], check=True)
    return home
