"""What is known of a pest, a disease or a helper: what to count, and from when on to act."""

from typing import Any

from shedbook.rules.finding import Reason, reason
from shedbook.rules.match import Context, Event, Json, Planting, family_of, number, own, text

OF_PLANTS = "scout_threshold"
OF_TRAPS = "catch_threshold"
# Counts of fewer than one on ten units are told for a hundred of them.
RARE = 0.1
# What an organism that nobody has written down is counted by.
NOT_LISTED: Json = {"measure": "share", "per": "plant"}


def organism_of(context: Context, name: str) -> Json:
    """The row of an organism, or what stands in for it when a grower gave it a name of its own."""
    row = own(context.rulebook.get("organisms"), name)
    return NOT_LISTED if row is None else row


def is_helpful(context: Context, event: Event) -> bool:
    """Was it a helper that was counted: by what was logged, or by what is known of it?"""
    name = text(event["details"].get("organism"))
    if event["details"].get("helpful") is True:
        return True
    return name is not None and organism_of(context, name).get("is_helpful") is True


def plant_limit(context: Context, planting: Planting, name: str) -> dict[str, Any]:
    """The action threshold on this crop; `limit` is None where there is none."""
    row = organism_of(context, name)
    found = _first_that_fits(context, planting, row.get("thresholds"))
    shown = {
        "measure": (found or row)["measure"],
        "per": (found or row)["per"],
        "is_disease": row.get("is_disease") is True,
        "limit": None if found is None else found["limit"],
        "row": found,
    }
    return _with_own(context, shown, f"{OF_PLANTS}.{name}")


def catch_limit(context: Context, planting: Planting, name: str, trap: str) -> dict[str, Any]:
    """The catch a night from which to act; `limit` is None where there is none."""
    rows = [
        row for row in organism_of(context, name).get("catches", ()) if row["trap_kind"] == trap
    ]
    found = _first_that_fits(context, planting, rows)
    shown = {
        "limit": None if found is None else found["limit_per_night"],
        "nights": 1 if found is None else found["over_nights"],
        "row": found,
    }
    return _with_own(context, shown, f"{OF_TRAPS}.{name}")


def limit_reasons(planting: Planting, threshold: dict[str, Any]) -> list[Reason]:
    """The threshold with its source, or that there is none."""
    if threshold["limit"] is None:
        # No count decides what to do about a disease.
        return [] if threshold["is_disease"] else [reason("scouting.set_your_own")]
    measure = "rare" if is_rare(threshold) else threshold["measure"]
    values = limit_values(threshold)
    row = threshold["row"]
    if row is None:
        return [reason(f"scouting.own_{measure}", **values)]
    values |= {"crop": planting.get("crop"), "threshold_region": row["region"]}
    made = [reason(f"scouting.limit_{measure}", **values, threshold_source=row["source"])]
    if "note" in row:
        made.append(reason("scouting.limit_note", limit_note=row["note"]))
    return made


def limit_values(threshold: dict[str, Any]) -> dict[str, Any]:
    """The limit under the name of its measure, and what it is counted on."""
    limit_of, measure = threshold["limit"], threshold["measure"]
    values = {"per_what": threshold["per"]}
    if limit_of is not None:
        values["limit_" + measure] = limit_of
        if is_rare(threshold):
            values["limit_per_hundred"] = limit_of * 100
    return values


def is_rare(threshold: dict[str, Any]) -> bool:
    """Is the limit a count so low that it is told for a hundred units?"""
    limit_of = threshold["limit"]
    return limit_of is not None and threshold["measure"] == "mean" and limit_of < RARE


def _with_own(context: Context, shown: dict[str, Any], key: str) -> dict[str, Any]:
    """The garden's own threshold goes before the published one."""
    chosen = number(own(context.view["settings"].get("thresholds"), key))
    if chosen is None or chosen < 0:
        return shown
    return shown | {"limit": chosen, "row": None}


def _first_that_fits(context: Context, planting: Planting, rows: Any) -> Json | None:
    crop, family = planting.get("crop"), family_of(context, planting)
    for row in rows or ():
        if "crops" in row and crop not in row["crops"]:
            continue
        if "families" in row and family not in row["families"]:
            continue
        found: Json = row
        return found
    return None
