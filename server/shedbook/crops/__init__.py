"""Facts about crops, kept as rows: one file a topic, one table a crop."""

import functools
import tomllib
from importlib import resources
from typing import Any

# crops.toml names the crops; the other files tell more of them, as far as they are there.
FACTS = ("water", "emergence", "spacing", "feeding", "keeping", "maturity", "seed_bath")


@functools.cache
def load_crops() -> dict[str, dict[str, Any]]:
    """Every crop that ships, by id, with all that the files say of it."""
    crops = _read("crops")
    for topic in FACTS:
        add_facts(crops, topic, _read(topic))
    return crops


def add_facts(
    crops: dict[str, dict[str, Any]], topic: str, facts: dict[str, dict[str, Any]]
) -> None:
    """Take in the facts of one file; a fact stands in one place only, of a crop that is known."""
    for crop_id, told in facts.items():
        if crop_id not in crops:
            raise ValueError(f"{topic}.toml: {crop_id} is not in crops.toml.")
        twice = set(told) & set(crops[crop_id])
        if twice:
            raise ValueError(f"{topic}.toml: {crop_id} has {', '.join(sorted(twice))} already.")
        crops[crop_id] |= told


def _read(name: str) -> dict[str, dict[str, Any]]:
    file = resources.files(__name__).joinpath(f"{name}.toml")
    return tomllib.loads(file.read_text(encoding="utf-8")) if file.is_file() else {}


@functools.cache
def load_sources() -> dict[str, str]:
    """What each key of a source stands for."""
    file = resources.files(__name__).joinpath("sources.toml")
    return tomllib.loads(file.read_text(encoding="utf-8"))


@functools.cache
def load_organisms() -> dict[str, dict[str, Any]]:
    """What is looked for on the crops, by id: pests, diseases and helpers with their thresholds."""
    return _read("organisms")


@functools.cache
def load_soils() -> dict[str, dict[str, Any]]:
    """What soils of each texture hold, by the texture's name."""
    return _read("soils")


@functools.cache
def load_fertilizers() -> dict[str, dict[str, Any]]:
    """What a measure of each material weighs, as published; two sources where two differ."""
    return _read("fertilizers")
