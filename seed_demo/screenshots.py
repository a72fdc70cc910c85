"""Takes the pictures of docs/images from the running demo: `python -m seed_demo.screenshots`.

Needs Playwright and a Chromium; SHEDBOOK_CHROMIUM names one where Playwright has none of its own.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
IMAGES = ROOT / "docs" / "images"
LARGEST_BYTES = 200_000
STARTED_WITHIN_S = 120
LOADED_WITHIN_MS = 30_000
RUN = "from shedbook.cli.main import main; main(prog_name='shedbook')"


@dataclass(frozen=True)
class Shot:
    """One picture: whose device it is, how large its window is, and which screen it shows."""

    name: str
    code: str  # name of the group in _PRINTED that lets this device in
    width: int
    height: int
    scale: float
    route: str


SHOTS = (
    Shot("phone", "helper", 390, 844, 2, "#/round"),
    Shot("shed", "lead", 1280, 900, 1, "#/shed"),
)
_PRINTED = re.compile(
    r"(?P<origin>http://[\w.:]+)/#/join/(?P<lead>[\w-]+).*phone: +(?P<helper>\w{4} \w{4})",
    re.DOTALL,
)


def main() -> None:
    """Start the demo, take every picture, stop the demo."""
    from playwright.sync_api import sync_playwright

    IMAGES.mkdir(parents=True, exist_ok=True)
    with _running_demo() as printed, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=_find_chromium())
        for shot in SHOTS:
            picture = _take(browser, printed, shot)
            if len(picture) > LARGEST_BYTES:
                raise SystemExit(f"{shot.name}.png has {len(picture)} bytes; lower its scale.")
            (IMAGES / f"{shot.name}.png").write_bytes(picture)
            print(f"docs/images/{shot.name}.png: {len(picture) // 1000} kB")
        browser.close()


def _take(browser: Any, printed: re.Match[str], shot: Shot) -> bytes:
    context = browser.new_context(
        viewport={"width": shot.width, "height": shot.height}, device_scale_factor=shot.scale
    )
    page = context.new_page()
    page.set_default_timeout(LOADED_WITHIN_MS)
    code = printed[shot.code].replace(" ", "")
    page.goto(f"{printed['origin']}/#/join/{code}")
    page.wait_for_url(re.compile(r"#/(?!join)"))
    page.goto(f"{printed['origin']}/{shot.route}")
    # There is work to do as soon as the first pull has come in.
    page.wait_for_selector(".work")
    page.wait_for_load_state("networkidle")
    picture: bytes = page.screenshot()
    context.close()
    return picture


@contextmanager
def _running_demo() -> Iterator[re.Match[str]]:
    """The demo on a free port; what it printed for those who want to come in."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "server"), "PYTHONUNBUFFERED": "1"}
    with tempfile.TemporaryDirectory() as folder:
        printed = Path(folder) / "printed.txt"
        with printed.open("w", encoding="utf-8") as output:
            program = subprocess.Popen(
                [sys.executable, "-c", RUN, "demo", "--port", "0", "--no-open"],
                stdout=output,
                stderr=subprocess.STDOUT,
                env=environment,
            )
        try:
            yield _wait_for(program, printed)
        finally:
            program.terminate()
            program.wait()


def _wait_for(program: "subprocess.Popen[bytes]", printed: Path) -> re.Match[str]:
    until = time.monotonic() + STARTED_WITHIN_S
    while time.monotonic() < until and program.poll() is None:
        found = _PRINTED.search(printed.read_text(encoding="utf-8"))
        if found:
            return found
        time.sleep(0.2)
    raise SystemExit(f"The demo did not start:\n{printed.read_text(encoding='utf-8')}")


def _find_chromium() -> str | None:
    return os.environ.get("SHEDBOOK_CHROMIUM") or shutil.which("chromium")


if __name__ == "__main__":
    main()
