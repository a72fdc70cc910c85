"""The first start, the second start, and what a person reads when one of them cannot be."""

from __future__ import annotations

import importlib.util
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import bootstrap

Steps = list[list[str]]


def a_checkout(folder: Path) -> Path:
    """A folder with the files that decide what must be installed."""
    for name in bootstrap.DECIDED_BY:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(name)
    return folder


@pytest.fixture
def steps(monkeypatch: pytest.MonkeyPatch) -> Steps:
    """The long steps that a start takes; each leaves behind what the real one would."""
    taken: Steps = []

    def take(command: list[str], doing: str, log: Path) -> None:
        taken.append(command)
        if "venv" in command:
            python = bootstrap.venv_python(Path(command[-1]))
            python.parent.mkdir(parents=True)
            python.touch()
        else:
            (log.parent / "client-packages").mkdir(exist_ok=True)
            (log.parent / "client-packages" / "complete").touch()

    monkeypatch.setattr(bootstrap, "run_step", take)
    return taken


def installed(steps: Steps) -> list[str]:
    return [command[-1] for command in steps if "pip" in command]


def environments(steps: Steps) -> list[str]:
    return [command[-1] for command in steps if "venv" in command]


def test_first_start_makes_an_environment_and_installs(tmp_path: Path, steps: Steps) -> None:
    root = a_checkout(tmp_path)
    python = bootstrap.make_ready(root=root)
    assert python == bootstrap.venv_python(bootstrap.venv_folder(root))
    assert environments(steps) == [str(bootstrap.venv_folder(root))]
    assert installed(steps) == [str(root)]


def test_second_start_takes_no_step(tmp_path: Path, steps: Steps) -> None:
    root = a_checkout(tmp_path)
    bootstrap.make_ready(root=root)
    steps.clear()
    bootstrap.make_ready(root=root)
    assert steps == []


def test_start_after_an_interrupted_one_begins_anew(
    tmp_path: Path, steps: Steps, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = a_checkout(tmp_path)

    def be_interrupted(*_: Any) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(bootstrap, "install", be_interrupted)
        with pytest.raises(KeyboardInterrupt):
            bootstrap.make_ready(root=root)
    bootstrap.make_ready(root=root)
    assert len(environments(steps)) == 2
    assert installed(steps) == [str(root)]


@pytest.mark.parametrize("name", bootstrap.DECIDED_BY)
def test_changed_file_installs_again_in_the_same_environment(
    tmp_path: Path, steps: Steps, name: str
) -> None:
    root = a_checkout(tmp_path)
    bootstrap.make_ready(root=root)
    steps.clear()
    (root / name).write_text("changed")
    bootstrap.make_ready(root=root)
    assert environments(steps) == []
    assert installed(steps) == [str(root)]


def test_moved_checkout_begins_anew(tmp_path: Path, steps: Steps) -> None:
    root = a_checkout(tmp_path / "before")
    bootstrap.make_ready(root=root)
    moved = root.rename(tmp_path / "after")
    steps.clear()
    bootstrap.make_ready(root=moved)
    assert environments(steps) == [str(bootstrap.venv_folder(moved))]


def test_lost_client_packages_are_installed_again(tmp_path: Path, steps: Steps) -> None:
    root = a_checkout(tmp_path)
    bootstrap.make_ready(root=root)
    steps.clear()
    (root / "build" / "client-packages" / "complete").unlink()
    bootstrap.make_ready(root=root)
    assert installed(steps) == [str(root)]


def test_extra_is_added_once_and_kept(tmp_path: Path, steps: Steps) -> None:
    root = a_checkout(tmp_path)
    bootstrap.make_ready(root=root)
    bootstrap.make_ready(extras=("test",), root=root)
    bootstrap.make_ready(root=root)
    assert installed(steps) == [str(root), f"{root}[test]"]
    (root / "pyproject.toml").write_text("changed")
    bootstrap.make_ready(root=root)
    assert installed(steps)[-1] == f"{root}[test]"


def test_old_python_is_named_with_what_is_needed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    with pytest.raises(bootstrap.CannotStart, match=r"3\.11 or newer, and this is 3\.9\.2"):
        bootstrap.check_python()


def test_missing_ensurepip_is_answered_with_the_package(monkeypatch: pytest.MonkeyPatch) -> None:
    find = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == "ensurepip" else find(name)
    )
    with pytest.raises(bootstrap.CannotStart, match="apt install python3-venv"):
        bootstrap.check_python()


def test_folder_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "build").write_text("a file where the folder should be")
    with pytest.raises(bootstrap.CannotStart, match="cannot be written to"):
        bootstrap.make_venv(tmp_path / "build" / "venv")


def test_failed_step_shows_the_end_of_its_log_and_the_way_out(tmp_path: Path) -> None:
    log = tmp_path / "install.log"
    fail = "print('looking'); raise SystemExit('getaddrinfo failed')"
    with pytest.raises(bootstrap.CannotStart) as told:
        bootstrap.run_step([sys.executable, "-c", fail], "fetching", log)
    text = str(told.value)
    assert "Stopped while fetching" in text
    assert "    looking" in text
    assert str(log) in text
    assert "It is needed once" in text


def test_progress_shows_the_time_and_the_last_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = tmp_path / "install.log"
    log.write_text("Collecting one\nCollecting two\n\n")
    bootstrap.show_progress(31, log, moving=False)
    assert capsys.readouterr().err == "  31 s  Collecting two\n"


def test_environment_of_a_child_has_no_foreign_modules(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", "elsewhere")
    monkeypatch.setenv("SHEDBOOK_DATA", "kept")
    environment = bootstrap.clean_environment()
    assert "PYTHONPATH" not in environment
    assert environment["SHEDBOOK_DATA"] == "kept"


def test_run_gives_the_exit_code_of_the_child() -> None:
    assert bootstrap.run([sys.executable, "-c", "raise SystemExit(7)"]) == 7


def test_request_to_end_is_passed_on_to_the_child(tmp_path: Path) -> None:
    child = (
        "import signal, sys, time\n"
        "signal.signal(signal.SIGTERM, lambda *_: sys.exit(5))\n"
        "print('ready', flush=True)\n"
        "time.sleep(30)\n"
    )
    parent = (
        f"import sys; sys.path.insert(0, {str(Path(bootstrap.__file__).parent)!r})\n"
        f"import bootstrap; sys.exit(bootstrap.run([sys.executable, '-c', {child!r}]))\n"
    )
    with subprocess.Popen([sys.executable, "-c", parent], stdout=subprocess.PIPE) as started:
        assert started.stdout is not None
        assert started.stdout.readline() == b"ready\n"
        started.send_signal(signal.SIGTERM)
        assert started.wait(timeout=10) == 5
