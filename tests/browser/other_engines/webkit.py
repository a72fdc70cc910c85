"""WebKitGTK's MiniBrowser, driven by Debian's WebKitWebDriver on a display that nobody sees."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path
from typing import Any

from selenium.webdriver import WebKitGTK, WebKitGTKOptions
from selenium.webdriver.common.by import By
from selenium.webdriver.webkitgtk.service import Service

PATIENCE_S = 60
HOMES = ("HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME")

# The driver presses where it found a thing a moment ago, so that place must not change any more.
STANDS_STILL = """(async () => {{
  const place = () => JSON.stringify(document.querySelector({selector}).getBoundingClientRect());
  for (let last = '', same = 0; same < 5;) {{
    const now = place();
    same = now === last ? same + 1 : 0;
    last = now;
    await new Promise((again) => setTimeout(again, 50));
  }}
  return true;
}})()"""


class WebKit:
    """A MiniBrowser with one window; what it keeps lies in `folder`."""

    name = "WebKit"

    def __init__(self, driver: str, program: str, folder: Path) -> None:
        folder.mkdir()
        self._display = Display()
        options = WebKitGTKOptions()
        options.binary_location = program
        options.add_argument("--automation")
        homes = dict.fromkeys(HOMES, str(folder))
        service = Service(
            driver,
            env={**os.environ, **homes, "DISPLAY": self._display.name},
            log_output=str(folder / "said.txt"),
        )
        try:
            self._driver = WebKitGTK(options=options, service=service)
        except BaseException:
            self._display.close()
            raise
        self._driver.set_script_timeout(PATIENCE_S)

    def open(self, address: str) -> None:
        """Go to an address, also to the same one again."""
        self._driver.get(address)

    def run(self, script: str) -> Any:
        """What an expression comes to in the page; a promise is waited for."""
        return self._driver.execute_async_script(
            f"const done = arguments[0]; Promise.resolve({script}).then(done);"
        )

    def press(self, selector: str) -> None:
        """Press what the selector names first, with a pointer, where a person sees it."""
        found = self._driver.find_element(By.CSS_SELECTOR, selector)
        self._driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", found)
        self.run(STANDS_STILL.format(selector=json.dumps(selector)))
        found.click()

    def close(self) -> None:
        try:
            self._driver.quit()
        finally:
            self._display.close()


class Display:
    """An X server that draws into memory, under the first free number."""

    def __init__(self) -> None:
        told, tell = os.pipe()
        command = [
            "Xvfb",
            "-displayfd",
            str(tell),
            "-screen",
            "0",
            "800x1000x24",
            "-nolisten",
            "tcp",
        ]
        self._process = subprocess.Popen(
            command,
            pass_fds=[tell],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(tell)
        with os.fdopen(told) as numbers:
            number = numbers.readline().strip()
        assert number, "Xvfb has ended at once"
        self.name = f":{number}"

    def close(self) -> None:
        self._process.terminate()
        self._process.wait(PATIENCE_S)
