"""Troubles of crops and the signs they show: troubles/*.toml, one table a trouble."""

import functools
import tomllib
from importlib import resources
from typing import Any

# What is no list of troubles.
_OTHER = frozenset({"signs.toml", "ranking.toml"})


@functools.cache
def load_troubles() -> dict[str, dict[str, Any]]:
    """Every trouble that ships, by id, whatever file it stands in."""
    troubles: dict[str, dict[str, Any]] = {}
    for file in sorted(_folder().iterdir(), key=lambda file: file.name):
        if not file.name.endswith(".toml") or file.name in _OTHER:
            continue
        for trouble, row in tomllib.loads(file.read_text(encoding="utf-8")).items():
            if trouble in troubles:
                raise ValueError(f"{file.name}: {trouble} stands in another file already.")
            troubles[trouble] = row
    return dict(sorted(troubles.items()))


@functools.cache
def load_signs() -> dict[str, list[str]]:
    """The catalogue of signs, by the part of the plant, in the order in which they are offered."""
    text = _folder().joinpath("signs.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@functools.cache
def load_ranking() -> dict[str, float]:
    """The numbers by which signs are weighed."""
    text = _folder().joinpath("ranking.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _folder() -> Any:
    return resources.files(__package__).joinpath("troubles")
