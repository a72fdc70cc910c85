"""Make Shedbook ready to run from a checkout, with nothing but Python's own library.

`make_ready` gives the Python of a virtual environment under `build/` in which the project is
installed. The first call needs the network; the next ones only read a stamp, which is written last,
so an interrupted start is done again and a changed pyproject.toml is noticed.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
OLDEST_PYTHON = (3, 11)
# A change in one of these means that other packages, or another client, must be installed.
DECIDED_BY = (
    "pyproject.toml",
    "client/package.json",
    "client/package-lock.json",
    "server/build_client.py",
    "server/wheel_hook.py",
)
NO_NETWORK = (
    "name resolution",
    "getaddrinfo",
    "ConnectionError",
    "NewConnectionError",
    "ENOTFOUND",
)


class CannotStart(Exception):
    """What is missing and what to do about it, in words for the person at the keyboard."""


def make_ready(extras: tuple[str, ...] = (), root: Path = ROOT) -> Path:
    """The Python to run Shedbook with, installed together with the named extras."""
    check_python()
    folder = venv_folder(root)
    python = venv_python(folder)
    stamp = folder / "complete"
    found = read_stamp(stamp) if python.exists() else {}
    wanted = stamp_content(extras, root)
    if is_enough(found, wanted) and (root / "build" / "client-packages" / "complete").is_file():
        return python
    stamp.unlink(missing_ok=True)
    # An environment that was finished here before takes the change; any other is made anew.
    if not found or found["place"] != wanted["place"]:
        make_venv(folder)
    wanted["extras"] = sorted({*extras, *found.get("extras", [])})
    install(python, wanted["extras"], root)
    stamp.write_text(json.dumps(wanted), encoding="utf-8")
    return python


def run_where(package: str, work: Callable[[], int], program: Path, root: Path = ROOT) -> int:
    """Do the work here if this Python has the package, else by the program in one that has."""
    if importlib.util.find_spec(package) is not None:
        return work()
    try:
        python = make_ready(extras=("test",))
    except CannotStart as problem:
        print(f"\n{problem}", file=sys.stderr)
        return 1
    return run([str(python), "-P", str(program), *sys.argv[1:]], cwd=root)


def run(command: list[str], cwd: Path | None = None) -> int:
    """Run a command in the foreground until it ends by itself, and give its exit code.

    Ctrl-C reaches the child directly, and a request to end is passed on: the child decides.
    """
    with subprocess.Popen(command, cwd=cwd, env=clean_environment()) as child:
        before = signal.signal(signal.SIGTERM, lambda *_: child.terminate())
        try:
            while True:
                try:
                    code = child.wait()
                    break
                except KeyboardInterrupt:
                    continue
        finally:
            signal.signal(signal.SIGTERM, before)
    return code if code >= 0 else 128 - code


def check_python() -> None:
    """Say what this Python lacks before anything is made."""
    if sys.version_info < OLDEST_PYTHON:
        have = ".".join(str(part) for part in sys.version_info[:3])
        raise CannotStart(
            f"Shedbook needs Python 3.11 or newer, and this is {have}. Install a newer one from "
            "your system's packages or from python.org, and start again with it."
        )
    if importlib.util.find_spec("ensurepip") is None or importlib.util.find_spec("venv") is None:
        raise CannotStart(
            "This Python cannot make virtual environments. On Debian, Ubuntu and Raspberry Pi OS:\n"
            "    sudo apt install python3-venv\n"
            "Elsewhere, install Python from python.org. Then start again."
        )


def make_venv(folder: Path) -> None:
    """An empty environment, whatever lay there before."""
    shutil.rmtree(folder, ignore_errors=True)
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotStart(
            f"Shedbook keeps its packages in {folder.parent}, which cannot be written to "
            f"({error.strerror}). Copy Shedbook to a folder of your own and start it there."
        ) from error
    run_step(
        [sys.executable, "-P", "-m", "venv", str(folder)],
        "making a place for its packages",
        folder.parent / "install.log",
    )


def install(python: Path, extras: list[str], root: Path) -> None:
    """The checkout itself, editable, with what it depends on."""
    target = f"{root}[{','.join(extras)}]" if extras else str(root)
    pip = [str(python), "-P", "-m", "pip", "--disable-pip-version-check"]
    run_step(
        [*pip, "install", "--no-user", "-e", target],
        "fetching its packages (once, some minutes on a slow line)",
        root / "build" / "install.log",
    )


def run_step(command: list[str], doing: str, log: Path) -> None:
    """Run a long step with its output in a log, and let the terminal see that it moves."""
    moving = sys.stderr.isatty()
    print(f"Shedbook: {doing} ...", file=sys.stderr, flush=True)
    started = shown = time.monotonic()
    with log.open("w", encoding="utf-8") as output:
        child = subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
            env=clean_environment(),
        )
        try:
            while child.poll() is None:
                time.sleep(0.2)
                now = time.monotonic()
                if now - shown >= (1 if moving else 15):
                    shown = now
                    show_progress(int(now - started), log, moving)
        except BaseException:
            child.terminate()
            child.wait()
            raise
    if moving:
        print("\r\033[K", end="", file=sys.stderr, flush=True)
    if child.returncode:
        raise CannotStart(explain_failure(doing, log))


def show_progress(seconds: int, log: Path, moving: bool) -> None:
    """The time so far and what is being worked on; one line that changes, on a terminal."""
    lines = log.read_text(encoding="utf-8", errors="replace").split("\n")
    last = next((line.strip() for line in reversed(lines) if line.strip()), "")
    text = f"  {seconds} s  {last}"
    if moving:
        width = shutil.get_terminal_size().columns - 1
        print(f"\r\033[K{text[:width]}", end="", file=sys.stderr, flush=True)
    else:
        print(text[:100], file=sys.stderr, flush=True)


def explain_failure(doing: str, log: Path) -> str:
    """The end of the log, where it lies, and the likeliest way out."""
    text = log.read_text(encoding="utf-8", errors="replace")
    ending = "\n".join(f"    {line}" for line in text.rstrip().split("\n")[-15:])
    if any(sign in text for sign in NO_NETWORK):
        way_out = "The network could not be reached. It is needed once, for the first start."
    elif "No space left" in text:
        way_out = "The disk is full. Shedbook needs about 300 MB, its tests about 1 GB."
    else:
        way_out = "Starting again takes it up anew."
    return f"Stopped while {doing}:\n{ending}\nAll of it: {log}\n{way_out}"


def clean_environment() -> dict[str, str]:
    """The person's environment without what would mix foreign modules into ours."""
    return {
        name: value
        for name, value in os.environ.items()
        if name not in {"PYTHONPATH", "PYTHONHOME", "__PYVENV_LAUNCHER__"}
    }


def venv_folder(root: Path) -> Path:
    """One environment for each Python, so that trying another one spoils nothing."""
    return root / "build" / f"venv-{sys.version_info[0]}.{sys.version_info[1]}"


def venv_python(folder: Path) -> Path:
    """Windows names the folder and the program otherwise."""
    if sys.platform == "win32":
        return folder / "Scripts" / "python.exe"
    return folder / "bin" / "python"


def read_stamp(stamp: Path) -> dict[str, Any]:
    """What was installed, or nothing where no installation was finished."""
    try:
        found = json.loads(stamp.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) and found.keys() >= {"place", "content"} else {}


def stamp_content(extras: tuple[str, ...], root: Path) -> dict[str, Any]:
    """What the installation depends on: where it lies, by which Python, from which files."""
    content = hashlib.sha256()
    for name in DECIDED_BY:
        content.update((root / name).read_bytes())
    place = f"{root} {sys.base_prefix} {sys.version}"
    return {"place": place, "content": content.hexdigest(), "extras": sorted(extras)}


def is_enough(found: dict[str, Any], wanted: dict[str, Any]) -> bool:
    """An environment with more extras than asked for serves as well."""
    same = all(found.get(name) == wanted[name] for name in ("place", "content"))
    return same and set(wanted["extras"]) <= set(found.get("extras", []))
