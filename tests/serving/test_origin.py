"""The one address under which phones know a shed: how it is written, and that it stays."""

from pathlib import Path

import pytest

from shedbook.serving.origin import OriginError, find_origin, fix_origin, public_origin


@pytest.mark.parametrize(
    ("typed", "origin"),
    [
        ("https://garden.example", "https://garden.example"),
        ("https://Garden.Example/", "https://garden.example"),
        ("https://garden.example:443", "https://garden.example"),
        ("https://garden.example:8443", "https://garden.example:8443"),
        ("HTTPS://shed", "https://shed"),
    ],
)
def test_an_address_is_kept_as_browsers_write_it(typed: str, origin: str) -> None:
    assert public_origin(typed) == origin


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "garden.example",
        "http://garden.example",
        "https://192.168.1.7",
        "https://192.168.7",
        "https://[fd00::7]",
        "https://3232235777",
        "https://garden.example/log",
        "https://garden.example?a=b",
        "https://garden.example#a",
        "https://lead@garden.example",
        "https://garden..example",
        "https://-garden.example",
        "https://garden.example:99999",
        "https://gard\u00e9n.example",
        "https://garden.example\nX-Other: 1",
        "https://",
    ],
)
def test_what_is_no_https_name_is_refused_with_an_example(typed: str) -> None:
    with pytest.raises(OriginError, match=r"such as https://garden\.example"):
        public_origin(typed)


def test_the_first_address_stays_and_another_is_refused(tmp_path: Path) -> None:
    assert find_origin(tmp_path) is None
    fix_origin(tmp_path, "https://garden.example")
    fix_origin(tmp_path, "https://garden.example")
    with pytest.raises(OriginError, match="empty notebook"):
        fix_origin(tmp_path, "https://plot.example")
    assert find_origin(tmp_path) == "https://garden.example"
