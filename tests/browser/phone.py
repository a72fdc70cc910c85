"""A phone: a browser process of its own, with a folder that outlives it."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import time
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, Playwright

from tests import needs
from tests.browser.shed import PATIENCE_S, Shed

# Opens a garden in a page whose own program was kept from starting, so that a test alone drives it.
# An entry's day is the one that its text names: `noonAgo` counts back from the garden's own.
OPEN_GARDEN = """async () => {
  const base = new URL('.', document.querySelector('script[type=module]').src);
  const [{ openGarden }, { makeActions }] = await Promise.all(
    ['garden/open.js', 'garden/actions.js'].map((name) => import(new URL(name, base))));
  globalThis.garden = await openGarden();
  globalThis.actions = makeActions(garden, () => undefined);
  const dayAgo = (days) => new Date((garden.state.today - days) * 86_400_000).toISOString();
  globalThis.noonAgo = (days) => `${dayAgo(days).slice(0, 10)}T12:00:00+00:00`;
}"""
# A round under way may have read what waits before the last entry was written.
TALK = """async () => {
  if (garden.state.sync.phase === 'running') await garden.loop.now();
  await garden.loop.now();
  const {waiting, missing, sync, clockOff, knownAtMs} = garden.state;
  return {waiting, missing, sync, clockOff, knownAtMs};
}"""


class Phone:
    """A browser with touch and a small screen; its folder outlives the process."""

    def __init__(self, playwright: Playwright, folder: Path, shed: Shed) -> None:
        self._playwright = playwright
        self._folder = folder
        self._shed = shed
        self._context: BrowserContext | None = None
        self.clock_off_ms = 0

    @property
    def context(self) -> BrowserContext:
        """The running browser; started when first asked for."""
        if self._context is None:
            device = dict(self._playwright.devices["Pixel 7"])
            del device["default_browser_type"]
            self._context = self._playwright.chromium.launch_persistent_context(
                str(self._folder),
                executable_path=needs.find_browser(),
                accept_downloads=True,
                # Metric units: the browser's own US English would make them US on this clock.
                locale="en-GB",
                timezone_id="America/Denver",
                **device,
            )
            if self.clock_off_ms:
                off = f"const now = Date.now; Date.now = () => now() + {self.clock_off_ms};"
                self._context.add_init_script(off)
        return self._context

    def open(self, address: str = "/") -> Page:
        """The app itself in a new tab; `address` is a path of the shed or a whole link."""
        page = self.context.new_page()
        page.goto(address if "://" in address else f"{self._shed.origin}{address}")
        return page

    def bare(self) -> Page:
        """A tab of the shed's origin in which nothing runs yet."""
        page = self.context.new_page()
        page.route("**/main.js", lambda route: route.abort())
        page.goto(f"{self._shed.origin}/")
        return page

    def garden(self, link: str | None = None) -> Page:
        """A bare tab with `garden` and `actions` in it, after joining by the link if there is one.

        Its loop is not started: it talks with the shed after a record and when it is told to.
        """
        page = self.bare()
        page.evaluate(OPEN_GARDEN)
        if link:
            page.evaluate("(code) => actions.join(code, 'Phone')", link.rsplit("/", 1)[1])
            assert page.evaluate("garden.state.session !== null"), page.evaluate(
                "garden.state.notices"
            )
        return page

    def kill(self) -> None:
        """End every process of the browser as a dead battery does."""
        assert self._context is not None
        processes = _processes_with(str(self._folder))
        for process in processes:
            with contextlib.suppress(ProcessLookupError):
                os.kill(process, signal.SIGKILL)
        # Its threads die one by one, and hold the folder's files until the last is gone.
        until = time.monotonic() + PATIENCE_S
        while _is_listed(processes[0]):
            assert time.monotonic() < until, "the browser outlives its end"
            time.sleep(0.05)
        self._context = None

    def close(self) -> None:
        if self._context is not None:
            self._context.close()
            self._context = None


def record(
    page: Page, kind: str, details: dict[str, Any], subjects: dict[str, Any] | None = None
) -> str:
    """Record an entry in a tab with a garden; returns its id once it is durable."""
    draft = {"kind": kind, "details": details, "subjects": subjects or {}}
    made: str = page.evaluate("async (draft) => (await garden.record(draft)).id", draft)
    return made


def make_bed(page: Page, name: str = "Long bed") -> str:
    """Make a bed in a tab with a garden; returns its id."""
    made: str = page.evaluate("async (name) => (await actions.makeBed({name})).id", name)
    return made


def sync(page: Page) -> dict[str, Any]:
    """Talk with the shed now; returns what the garden says of it afterwards."""
    told: dict[str, Any] = page.evaluate(TALK)
    return told


def _processes_with(folder: str) -> list[int]:
    """Processes started with this user-data folder; the browser first, then its children."""
    listed = subprocess.run(
        ["ps", "-ww", "-eo", "pid=,args="], capture_output=True, text=True, check=True
    ).stdout
    rows = [line.split(maxsplit=1) for line in listed.splitlines()]
    found = [
        ("--type=" in args[0], int(pid))
        for pid, *args in rows
        if args and f"--user-data-dir={folder}" in args[0]
    ]
    return [pid for _, pid in sorted(found)]


def _is_listed(process: int) -> bool:
    asked = subprocess.run(["ps", "-p", str(process)], capture_output=True, check=False)
    return asked.returncode == 0
