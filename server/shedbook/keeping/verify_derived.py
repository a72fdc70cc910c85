"""What is worked out from the log and kept: it must equal what the log gives from nothing."""

import json
from collections.abc import Iterator, Mapping
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from shedbook.log.ledger import Ledger
from shedbook.log.moment import day_text
from shedbook.records.gardens import is_zone
from shedbook.records.groups import all_groups
from shedbook.records.models import Garden, Home, Neighbour, Standing
from shedbook.rules.garden import Subject, findings_of_subject


def differences_of_places(session: Session, garden: Garden, ledger: Ledger) -> Iterator[str]:
    """The garden's name and zone, where each planting stands, and which beds lie side by side."""
    settings = ledger.settings()
    if settings.get("name") not in (None, garden.name):
        yield f"The garden is kept as {garden.name}, its log calls it {settings['name']}."
    zone = settings.get("zone")
    if zone and is_zone(zone) and zone != garden.zone:
        yield f"The garden is kept in the zone {garden.zone}, its log says {zone}."
    homes = {
        row.subject_id: (row.bed_id, row.crop, row.name)
        for row in session.execute(
            select(Home.subject_id, Home.bed_id, Home.crop, Home.name).where(
                Home.garden_id == garden.id
            )
        )
    }
    yield from _unlike("Place and name of", homes, _homes_of(ledger))
    beside = session.execute(
        select(Neighbour.bed_id, Neighbour.other_id).where(Neighbour.garden_id == garden.id)
    )
    kept = {(row.bed_id, row.other_id): True for row in beside}
    told = {
        (bed["id"], other): True
        for bed in ledger.beds()
        for other in bed.get("beside") or []
        if other != bed["id"]
    }
    yield from _unlike("Beds beside each other", kept, told)


def differences_of_standing(
    session: Session, garden_id: str, ledger: Ledger, rulebook: Mapping[str, Any]
) -> Iterator[str]:
    """Kept findings against those of the whole log, each at the moment it was worked out at."""
    groups = {group.id: group for group in all_groups(session, garden_id)}
    rows = session.execute(
        select(Standing.bed_group, Standing.today, Standing.as_of_s, Standing.findings).where(
            Standing.garden_id == garden_id, Standing.digest == rulebook["digest"]
        )
    )
    for row in rows:
        group = groups.get(row.bed_group)
        if group is None:
            continue
        subjects: list[Subject] = [("planting", one) for one in group.plantings]
        subjects += [("bed", group.bed)] if group.bed is not None else []
        found = [
            finding
            for subject in subjects
            for finding in findings_of_subject(
                ledger, subject, dict(rulebook), row.today, row.as_of_s
            )
        ]
        if _by_key(json.loads(row.findings)) != _by_key(json.loads(json.dumps(found))):
            yield (
                f"The findings kept for {row.bed_group} on {day_text(row.today)} are not what the "
                "log gives."
            )


def _homes_of(ledger: Ledger) -> dict[str, tuple[str | None, str | None, str | None]]:
    homes = {bed["id"]: (bed["id"], None, bed.get("name")) for bed in ledger.beds()}
    return homes | {
        one["id"]: (one.get("bed"), one.get("crop"), one.get("variety"))
        for one in ledger.plantings()
    }


def _unlike(what: str, kept: Mapping[Any, Any], told: Mapping[Any, Any]) -> Iterator[str]:
    for key in sorted({*kept, *told}):
        if kept.get(key) != told.get(key):
            yield f"{what} {key}: kept as {kept.get(key)}, the log gives {told.get(key)}."


def _by_key(findings: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return sorted(findings, key=lambda finding: str(finding["key"]))
