"""What is published, installed far from the checkout: it is whole, and the demo starts."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
import tarfile
import time
import urllib.error
import urllib.request
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

import bootstrap
import build_client
from shedbook import places

PATIENCE_S = 180


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the sdist, and with the wheel that was built out of that sdist."""
    folder = tmp_path_factory.mktemp("dist")
    must_run([sys.executable, "-P", "-m", "build", "--outdir", str(folder), str(places.ROOT)])
    return folder


@pytest.fixture(scope="module")
def wheel(built: Path) -> Path:
    return next(built.glob("*.whl"))


@pytest.fixture(scope="module")
def demo(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a demo that was started from an empty folder with only the wheel."""
    folder = tmp_path_factory.mktemp("elsewhere")
    environment = folder / "venv"
    must_run([sys.executable, "-P", "-m", "venv", str(environment)])
    python = bootstrap.venv_python(environment)
    must_run([str(python), "-P", "-m", "pip", "install", "--quiet", str(wheel)])
    port = free_port()
    # To a file: a child that held our own output would hang the run when a test fails.
    with (folder / "output").open("w") as output:
        started = subprocess.Popen(
            [str(python.parent / "shedbook"), "demo", "--port", str(port), "--no-open"],
            cwd=folder,
            env={**bootstrap.clean_environment(), "SHEDBOOK_DATA": str(folder / "data")},
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
        )
    try:
        address = f"http://localhost:{port}"
        wait_until_it_answers(f"{address}/healthz", started, folder / "output")
        yield address
    finally:
        started.terminate()
        started.wait(timeout=20)


def must_run(command: list[str]) -> None:
    ran = subprocess.run(
        command, capture_output=True, text=True, env=bootstrap.clean_environment(), check=False
    )
    assert ran.returncode == 0, f"{command}\n{ran.stdout}\n{ran.stderr}"


def free_port() -> int:
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        return int(tried.getsockname()[1])


def wait_until_it_answers(url: str, started: subprocess.Popen[bytes], output: Path) -> None:
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until and started.poll() is None:
        try:
            assert read(url)
            return
        except (urllib.error.URLError, ConnectionError):
            time.sleep(0.2)
    pytest.fail(f"the demo gave no answer (exit code {started.poll()}):\n{output.read_text()}")


def read(url: str) -> bytes:
    with urllib.request.urlopen(url, timeout=10) as answer:
        return bytes(answer.read())


def test_sdist_holds_the_sources_and_nothing_made(built: Path) -> None:
    with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    wanted = {"pyproject.toml", "client/package-lock.json", "client/.npmrc", "server/__main__.py"}
    assert wanted <= names
    made = re.compile(r"(^|/)(build|node_modules|vendor|__pycache__|\.mypy_cache)/")
    assert not [name for name in names if made.search(name)]


def test_wheel_holds_the_client_the_migrations_and_the_demo(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    client = {f"shedbook/_tree/client/{address}" for address in places.client_files()}
    assert client <= names
    for folder in (places.MIGRATIONS, places.SEED_DEMO):
        sources = {file.relative_to(places.ROOT).as_posix() for file in folder.rglob("*.py")}
        assert {f"shedbook/_tree/{source}" for source in sources} <= names


def test_wheel_holds_the_joined_client_and_the_licences_of_what_was_joined(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    client = {name.removeprefix("shedbook/_tree/client/") for name in names if "/client/" in name}
    modules = {name for name in client if name.endswith(".js") and not name.startswith("parts/")}
    assert modules == {"main.js", "service-worker.js"}
    licences = {f"vendor/{package}/LICENSE" for package in build_client.SERVED_MODULES}
    assert {name for name in client if name.startswith("vendor/")} == licences


def test_installed_demo_serves_the_page_and_what_it_names(demo: str) -> None:
    page = read(demo).decode()
    assert "<script" in page
    addresses = re.findall(r"(?:src|href)=\"(/[^\"]+)\"", page)
    assert addresses
    for address in addresses:
        assert read(demo + address), address
    main = next(address for address in addresses if address.endswith("/main.js"))
    # The joined client: what it is made of has no address of its own.
    for module in ("garden.js", "vendor/lit-html/lit-html.js"):
        with pytest.raises(urllib.error.HTTPError, match="404"):
            read(demo + main.replace("main.js", module))
