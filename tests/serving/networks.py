"""Two computers on a network of their own, made of namespaces that nothing else is in."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

SHED_ADDRESS = "10.213.77.1"
PHONE_ADDRESS = "10.213.77.2"
PATIENCE_S = 120


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
            _ip("-n", one.name, "link", "set", "lo", "up")
            _ip("-n", one.name, "link", "set", "cable", "up")
        yield shed, phone
    finally:
        for one in made:
            _ip("netns", "delete", one.name)


def _ip(*words: str) -> None:
    subprocess.run(["ip", *words], check=True, capture_output=True)
