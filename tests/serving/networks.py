"""Two computers on a network of their own, made of namespaces that nothing else is in."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

SHED_ADDRESS = "10.213.77.1"
PHONE_ADDRESS = "10.213.77.2"
PATIENCE_S = 120
IPV6 = Path("/proc/net/if_inet6")


@dataclass(frozen=True)
class Computer:
    """One end of the cable."""

    name: str
    address: str

    @property
    def within(self) -> list[str]:
        """What goes before a command, so that it runs on this computer."""
        return ["ip", "netns", "exec", self.name]

    def python(self, code: str, *words: str) -> str:
        """What a few lines print here."""
        ran = subprocess.run(
            [*self.within, sys.executable, "-c", code, *words],
            capture_output=True,
            text=True,
            timeout=PATIENCE_S,
            check=False,
        )
        assert ran.returncode == 0, ran.stderr
        return ran.stdout.strip()

    def start(self, code: str, *words: str, **given: Any) -> subprocess.Popen[str]:
        """The same as a program that goes on and is spoken to."""
        return subprocess.Popen(
            [*self.within, sys.executable, "-c", code, *words],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            **given,
        )

    def wait_for_the_cable(self) -> None:
        """Until the link is reported as up; the kernel says so some time after it is set."""
        until = time.monotonic() + PATIENCE_S
        while " state UP " not in _ip("-n", self.name, "link", "show", "cable"):
            assert time.monotonic() < until, f"the cable of {self.name} stays down"
            time.sleep(0.05)

    def unplug(self) -> None:
        """Take the cable out."""
        _ip("-n", self.name, "link", "set", "cable", "down")


@contextmanager
def two_computers() -> Iterator[tuple[Computer, Computer]]:
    """The shed's and the phone's; both are gone afterwards, whatever happened."""
    mark = f"shedbook-{os.getpid()}"
    shed = Computer(f"{mark}-shed", SHED_ADDRESS)
    phone = Computer(f"{mark}-phone", PHONE_ADDRESS)
    made = []
    try:
        for one in (shed, phone):
            _ip("netns", "add", one.name)
            made.append(one)
        peer = ["peer", "name", "cable", "netns", phone.name]
        _ip("link", "add", "cable", "netns", shed.name, "type", "veth", *peer)
        for one in (shed, phone):
            _ip("-n", one.name, "address", "add", f"{one.address}/24", "dev", "cable")
            # An address that the kernel adds seconds later breaks off whatever a browser opens.
            if IPV6.exists():
                _ip("-n", one.name, "link", "set", "cable", "addrgenmode", "none")
            _ip("-n", one.name, "link", "set", "lo", "up")
            _ip("-n", one.name, "link", "set", "cable", "up")
        for one in (shed, phone):
            one.wait_for_the_cable()
        yield shed, phone
    finally:
        for one in made:
            _ip("netns", "delete", one.name)


def _ip(*words: str) -> str:
    return subprocess.run(["ip", *words], check=True, capture_output=True, text=True).stdout
