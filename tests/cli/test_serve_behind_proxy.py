"""`shedbook serve --behind-proxy`: what must be said, and what is refused in words."""

import subprocess
import sys
from pathlib import Path

import pytest

from shedbook.places import default_data_folder
from shedbook.serving.origin import fix_origin
from tests.cli.conftest import Run
from tests.cli.test_serve import RUN, STARTED_WITHIN_S, environment_of

ORIGIN = ("--origin", "https://garden.example")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--behind-proxy", "127.0.0.1"), "first start behind a proxy needs --origin"),
        (("--behind-proxy", "localhost", *ORIGIN), "no address of one computer"),
        (("--behind-proxy", "0.0.0.0", *ORIGIN), "no address of one computer"),
        (("--behind-proxy", "*", *ORIGIN), "no address of one computer"),
        (("--behind-proxy", "192.0.2.4", *ORIGIN), "Say with --host which address"),
        (("--behind-proxy", "127.0.0.1", "--lan", *ORIGIN), "exclude each other"),
        (("--behind-proxy", "127.0.0.1", "--origin", "http://garden.example"), "Write https"),
        (ORIGIN, "--origin goes with --behind-proxy"),
    ],
)
def test_what_cannot_be_is_refused_before_anything_is_made(
    run: Run, words: tuple[str, ...], said: str
) -> None:
    refused = run("serve", *words)
    assert refused.exit_code != 0
    assert said in " ".join(refused.output.replace("│", " ").split())
    assert not default_data_folder().exists()


def test_the_address_that_phones_know_is_kept(run: Run) -> None:
    fix_origin(default_data_folder(), "https://garden.example")
    again = run("serve", "--behind-proxy", "127.0.0.1", "--origin", "https://plot.example")
    assert "empty notebook" in again.output
    on_network = run("serve", "--lan")
    assert "know it as https://garden.example, behind a proxy" in on_network.output
    assert "https://garden.example/#/join/" in pairing(run)


def pairing(run: Run) -> str:
    run("garden", "new", "Home")
    return run("pair", "--name", "Ana").output


def test_an_address_of_another_computer_is_not_listened_on(tmp_path: Path) -> None:
    words = ["serve", "--behind-proxy", "127.0.0.1", "--host", "192.0.2.7", *ORIGIN]
    refused = subprocess.run(
        [sys.executable, "-c", RUN, *words],
        env=environment_of(tmp_path),
        capture_output=True,
        text=True,
        timeout=STARTED_WITHIN_S,
        check=False,
    )
    assert refused.returncode == 1
    assert "the address of --host is none of this computer's" in refused.stderr
