"""Beds and plantings by the names that people type, read from the log."""

from collections.abc import Mapping
from typing import Any

import click

from shedbook import words
from shedbook.log.ledger import Ledger


def choose_bed(ledger: Ledger, wanted: str) -> dict[str, Any]:
    """The bed of this name or id. Raises click.UsageError with the names there are."""
    beds = [bed for bed in ledger.beds() if not bed.get("hidden")]
    found = [bed for bed in beds if _is_called(wanted, bed["id"], bed.get("name"))]
    if len(found) == 1:
        return found[0]
    names = ", ".join(sorted(str(bed.get("name", bed["id"])) for bed in beds)) or "none yet"
    if found:
        ids = ", ".join(bed["id"] for bed in found)
        raise click.UsageError(f"More than one bed is called {wanted}. Give an id: {ids}.")
    raise click.UsageError(f"No bed is called {wanted}. The beds are: {names}.")


def choose_planting(ledger: Ledger, wanted: str, bed: str | None) -> dict[str, Any]:
    """The planting by crop, variety, both, or id; one that stands goes before one that is over."""
    shown = [one for one in ledger.plantings() if not one.get("hidden")]
    near = [one for one in shown if bed is None or one.get("bed") == bed]
    found = [
        one
        for one in near
        if _is_called(wanted, one["id"], one.get("crop"), one.get("variety"), planting_name(one))
    ]
    found = [one for one in found if one.get("standing")] or found
    if len(found) == 1:
        return found[0]
    names = ", ".join(planting_name(one) for one in near if one.get("standing")) or "none"
    if found:
        listed = "\n".join(f"  {one['id']}  {planting_name(one)}" for one in found)
        raise click.UsageError(f"More than one planting fits {wanted}. Give an id:\n{listed}")
    raise click.UsageError(f"No planting fits {wanted}. Standing there now: {names}.")


def planting_name(planting: Mapping[str, Any]) -> str:
    """What the phone calls it; its id where it has no name yet."""
    name = words.planting_name(words.load_words(), planting.get("crop"), planting.get("variety"))
    return name or str(planting["id"])


def _is_called(wanted: str, *names: str | None) -> bool:
    return wanted.casefold() in {name.casefold() for name in names if name}
