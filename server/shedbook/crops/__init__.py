"""Facts about crops, kept as rows in crops.toml."""

import functools
import tomllib
from importlib import resources
from typing import Any


@functools.cache
def load_crops() -> dict[str, dict[str, Any]]:
    """Every crop that ships, by id."""
    text = resources.files(__name__).joinpath("crops.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
