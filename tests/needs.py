"""What some tests need from the machine: how it is found, and how a person gets it.

Python's own library only, since tests/__main__.py asks before anything is installed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

BROWSER_COMMANDS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
BROWSER_FILES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
    "C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe",
)


@dataclass(frozen=True)
class Need:
    """A thing of the machine, whether it is there, and the line that installs it."""

    name: str
    is_there: Callable[[], bool]
    install: str


@cache
def find_browser() -> str | None:
    """The program of a Chromium-like browser: the machine's own, else the one of Playwright."""
    return find_system_browser() or find_playwright_browser()


def find_system_browser() -> str | None:
    """SHEDBOOK_BROWSER names one; otherwise the usual commands and places."""
    named = os.environ.get("SHEDBOOK_BROWSER")
    if named:
        return named
    found = next(filter(None, map(shutil.which, BROWSER_COMMANDS)), None)
    return found or next((file for file in BROWSER_FILES if Path(file).exists()), None)


def find_playwright_browser() -> str | None:
    """The browser that `playwright install chromium` fetched."""
    # In a process of its own: Playwright keeps an event loop running where it is asked.
    ask = (
        "from playwright.sync_api import sync_playwright as start\n"
        "with start() as playwright: print(playwright.chromium.executable_path)"
    )
    asked = subprocess.run(
        [sys.executable, "-P", "-c", ask], capture_output=True, text=True, check=False
    )
    path = asked.stdout.strip()
    return path if path and Path(path).exists() else None


@cache
def find_postgresql() -> Path | None:
    """The folder with initdb and pg_ctl, the newest where there are several."""
    command = shutil.which("initdb")
    if command:
        return Path(command).resolve().parent
    packaged = Path("/usr/lib/postgresql").glob("*/bin/initdb")
    newest = max(packaged, key=lambda file: float(file.parts[-3]), default=None)
    return newest.parent if newest else None


@cache
def find_nginx() -> str | None:
    """Debian puts it where only root's own path leads."""
    return shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin:/usr/local/sbin")


@cache
def find_firefox() -> str | None:
    """Debian names its long-lived edition."""
    return shutil.which("firefox-esr") or shutil.which("firefox")


@dataclass(frozen=True)
class WebKit:
    """WebKitGTK's own browser and the program that drives it."""

    driver: str
    browser: str


@cache
def find_webkit() -> WebKit | None:
    """None without a display that nobody sees, too: this browser draws into windows only."""
    driver = shutil.which("WebKitWebDriver")
    browsers = sorted(Path("/usr/lib").glob("*/webkit2gtk-*/MiniBrowser"))
    if driver is None or not browsers or not shutil.which("Xvfb"):
        return None
    return WebKit(driver, str(browsers[-1]))


@cache
def can_make_networks() -> bool:
    """Whether this user may make network namespaces: root on Linux, outside most containers."""
    if sys.platform != "linux" or not shutil.which("ip"):
        return False
    name = f"shedbook-probe-{os.getpid()}"
    made = subprocess.run(["ip", "netns", "add", name], capture_output=True, check=False)
    if made.returncode == 0:
        subprocess.run(["ip", "netns", "delete", name], capture_output=True, check=False)
    return made.returncode == 0


@cache
def can_install_packages() -> bool:
    """Whether pip reaches the packages that an installation in an empty folder takes."""
    command = "install --dry-run --no-deps --ignore-installed --quiet --retries 0 hatchling"
    asked = subprocess.run(
        [sys.executable, "-P", "-m", "pip", *command.split()], capture_output=True, check=False
    )
    return asked.returncode == 0


@cache
def can_mount() -> bool:
    """Whether small file systems can be made, to run full or to fail."""
    if not (shutil.which("mkfs.ext4") and Path("/dev/loop-control").exists()):
        return False
    with tempfile.TemporaryDirectory() as folder:
        mounted = subprocess.run(
            ["mount", "-t", "tmpfs", "shedbook-test", folder], capture_output=True, check=False
        )
        if mounted.returncode == 0:
            subprocess.run(["umount", folder], check=True)
    return mounted.returncode == 0


BROWSER = Need(
    "a Chromium browser",
    lambda: find_browser() is not None,
    "sudo apt install chromium (or Google Chrome, or its path in SHEDBOOK_BROWSER)",
)
POSTGRESQL = Need(
    "the PostgreSQL server programs",
    lambda: find_postgresql() is not None,
    "sudo apt install postgresql",
)
MOUNT = Need("the right to mount a disk", can_mount, "run as root on Linux, with e2fsprogs")
FIREFOX = Need("Firefox", lambda: find_firefox() is not None, "sudo apt install firefox-esr")
WEBKIT = Need(
    "WebKitGTK's browser with its driver and Xvfb",
    lambda: find_webkit() is not None,
    "sudo apt install webkit2gtk-driver xvfb",
)
CADDY = Need(
    "the Caddy web server", lambda: shutil.which("caddy") is not None, "sudo apt install caddy"
)
NGINX = Need("the nginx web server", lambda: find_nginx() is not None, "sudo apt install nginx")
SYSTEMD = Need(
    "systemd-analyze",
    lambda: shutil.which("systemd-analyze") is not None,
    "sudo apt install systemd",
)
CERTUTIL = Need(
    "certutil", lambda: shutil.which("certutil") is not None, "sudo apt install libnss3-tools"
)
POPPLER = Need(
    "pdftotext and pdftoppm",
    lambda: all(map(shutil.which, ("pdftotext", "pdftoppm"))),
    "sudo apt install poppler-utils",
)
NETWORKS = Need(
    "network namespaces",
    can_make_networks,
    "run as root on Linux, outside a container that forbids them; sudo apt install iproute2",
)
PACKAGES = Need("packages from the network", can_install_packages, "connect to the network")

# By the folder below tests/ that cannot run without it, and by the marker of a single test.
BY_FOLDER = {"browser": BROWSER, "packaging": PACKAGES}
BY_MARKER = {
    "caddy": CADDY,
    "certutil": CERTUTIL,
    "chromium": BROWSER,
    "firefox": FIREFOX,
    "mount": MOUNT,
    "networks": NETWORKS,
    "nginx": NGINX,
    "poppler": POPPLER,
    "postgresql": POSTGRESQL,
    "systemd": SYSTEMD,
    "webkit": WEBKIT,
}
