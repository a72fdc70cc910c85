"""Firefox, driven by WebDriver BiDi, which it speaks by itself: Debian 12 has no geckodriver."""

from __future__ import annotations

import contextlib
import json
import re
import subprocess
import time
from pathlib import Path
from typing import Any

from websocket import WebSocket, create_connection

PATIENCE_S = 60
LISTENING = re.compile(r"WebDriver BiDi listening on (ws://\S+)")


class Firefox:
    """A headless Firefox with one tab; its profile lies in `folder`."""

    name = "Firefox"

    def __init__(self, program: str, folder: Path) -> None:
        folder.mkdir()
        self._said = folder / "said.txt"
        options = ["--headless", "--no-remote", "--remote-debugging-port=0"]
        # Its output in a file: a pipe that nobody empties would stop it.
        with self._said.open("wb") as said:
            self._process = subprocess.Popen(
                [program, *options, "--profile", str(folder)],
                stdin=subprocess.DEVNULL,
                stdout=said,
                stderr=said,
            )
        self._last = 0
        self._socket: WebSocket | None = None
        try:
            self._socket = create_connection(
                f"{self._address()}/session", timeout=PATIENCE_S, suppress_origin=True
            )
            self._ask("session.new", capabilities={})
            self._tab = self._ask("browsingContext.create", type="tab")["context"]
        except BaseException:
            self.close()
            raise

    def open(self, address: str) -> None:
        """Go to an address, also to the same one again."""
        self._ask("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def run(self, script: str) -> Any:
        """What an expression comes to in the page; a promise is waited for."""
        # As JSON, since BiDi has a notation of its own for objects.
        given = self._ask(
            "script.evaluate",
            expression=f"Promise.resolve({script}).then(JSON.stringify)",
            target={"context": self._tab},
            awaitPromise=True,
        )
        assert given["type"] == "success", given
        return json.loads(given["result"].get("value", "null"))

    def press(self, selector: str) -> None:
        """Press what the selector names first, with a pointer, where a person sees it."""
        left, top = self.run(MIDDLE_OF.format(selector=json.dumps(selector)))
        pointer = [
            {"type": "pointerMove", "x": left, "y": top},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ]
        source = {"type": "pointer", "id": "thumb", "actions": pointer}
        self._ask("input.performActions", context=self._tab, actions=[source])

    def close(self) -> None:
        if self._socket is not None:
            with contextlib.suppress(Exception):
                self._ask("browser.close")
            self._socket.close()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(5 if self._socket is not None else 0)
        if self._process.poll() is None:
            self._process.kill()
        self._process.wait(PATIENCE_S)

    def _address(self) -> str:
        until = time.monotonic() + PATIENCE_S
        while not (found := LISTENING.search(self._said.read_text(errors="replace"))):
            assert self._process.poll() is None, self._said.read_text(errors="replace")
            assert time.monotonic() < until, self._said.read_text(errors="replace")
            time.sleep(0.05)
        return found[1]

    def _ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        assert self._socket is not None
        self._last += 1
        self._socket.send(json.dumps({"id": self._last, "method": method, "params": parameters}))
        while True:
            told = json.loads(self._socket.recv())
            # What else it tells are events, which nobody has asked for.
            if told.get("id") == self._last:
                assert told["type"] == "success", told
                result: dict[str, Any] = told["result"]
                return result


MIDDLE_OF = """(() => {{
  const found = document.querySelector({selector});
  found.scrollIntoView({{ block: 'center', behavior: 'instant' }});
  const {{ left, top, width, height }} = found.getBoundingClientRect();
  return [Math.round(left + width / 2), Math.round(top + height / 2)];
}})()"""
