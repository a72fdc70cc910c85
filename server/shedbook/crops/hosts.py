"""Troubles that stay in the soil, their hosts and for how long, kept as rows in hosts.toml."""

import functools
import tomllib
from importlib import resources
from typing import Any

from shedbook.crops import load_crops


@functools.cache
def load_hosts() -> dict[str, dict[str, Any]]:
    """Every trouble that ships, by id; ValueError for a crop or family that is not known."""
    file = resources.files("shedbook.crops").joinpath("hosts.toml")
    hosts = tomllib.loads(file.read_text(encoding="utf-8"))
    crops = load_crops()
    families = {crop["family"] for crop in crops.values()}
    for trouble, row in hosts.items():
        named = [*row.get("crops", []), *row.get("cool_crops", [])]
        named += [crop for advice in row["years"] for crop in advice.get("crops", [])]
        lost = set(named) - set(crops) | set(row.get("families", [])) - families
        if lost:
            raise ValueError(f"hosts.toml: {trouble} names {', '.join(sorted(lost))}, not known.")
    return hosts
