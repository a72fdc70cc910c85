"""Where the files lie, and which of them a phone may have."""

from __future__ import annotations

from pathlib import Path

import pytest

from shedbook import places


def test_source_files_are_what_a_page_can_ask_for() -> None:
    files = places.source_files()
    wanted = {"index.html", "main.js", "words/en.json", "vendor/idb/index.js"}
    assert wanted <= files.keys()
    assert list(files) == sorted(files)
    assert all(file.is_file() for file in files.values())


@pytest.mark.parametrize(
    "name", ["package.json", "package-lock.json", "tsconfig.json", "vendor/idb/index.d.ts"]
)
def test_source_files_leave_out_what_only_builds_the_page(name: str) -> None:
    package = places.VENDOR / name.removeprefix("vendor/")
    assert (places.CLIENT / name).exists() or package.exists()
    assert name not in places.source_files()


def test_data_folder_is_the_one_that_was_named(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("SHEDBOOK_DATA", str(tmp_path))
    assert places.default_data_folder() == tmp_path


def test_data_folder_is_the_persons_own_when_none_was_named(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("SHEDBOOK_DATA", "")
    folder = places.default_data_folder()
    assert folder.name == "shedbook"
    assert folder.is_relative_to(Path.home())
