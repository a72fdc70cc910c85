"""The findings of a garden, kept per bed group and worked out again only where they are stale."""

import json
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from sqlalchemy import delete, insert, or_, select
from sqlalchemy.orm import Session

from shedbook.records.engine import writing
from shedbook.records.gardens import get_garden, lock_garden
from shedbook.records.group_entries import ledger_of_bed_group
from shedbook.records.groups import BedGroup, all_groups
from shedbook.records.models import Standing, db
from shedbook.records.refusals import CannotWrite
from shedbook.rules.garden import Subject, findings_of_subject

# Hours pass without an entry: a gap grows, and what was due becomes overdue.
KEPT_SECONDS = 600


@dataclass(frozen=True)
class Moment:
    """When a question is asked: the day in the garden's zone, and the second since 1970."""

    today: int
    now_s: int


@dataclass(frozen=True)
class StandingOfGarden:
    """All findings of a garden, and the second and the sequence number they were worked out at."""

    findings: list[dict[str, Any]]
    as_of_s: int
    head: int


@dataclass(frozen=True)
class _Group:
    findings: list[dict[str, Any]]
    as_of_s: int


def standing_of_garden(
    garden_id: str,
    rulebook: Mapping[str, Any],
    at: Moment,
    *,
    keep: bool = True,
    bed: str | None = None,
) -> StandingOfGarden:
    """Every finding of the garden, or of one bed, at this moment. `keep` stores what had to be
    worked out; a question about another day than today leaves nothing behind.
    """
    session = db.session()
    # The head is read first: if it has not moved by the time of storing, nothing read since has.
    head = get_garden(session, garden_id).head
    groups = [group for group in all_groups(session, garden_id) if bed in (None, group.bed)]
    found = _fresh(session, garden_id, rulebook["digest"], at, bed) if keep else {}
    computed = {
        group.id: _findings_of_group(session, garden_id, group, rulebook, at)
        for group in groups
        if group.id not in found
    }
    if keep and computed:
        # A store that is busy or full now will keep the answer of a later reader.
        with suppress(CannotWrite):
            _store(garden_id, rulebook["digest"], at, head, computed)
    all_found = found | {group: _Group(findings, at.now_s) for group, findings in computed.items()}
    findings = [finding for group in groups for finding in all_found[group.id].findings]
    return StandingOfGarden(
        findings=sorted(findings, key=lambda finding: str(finding["key"])),
        as_of_s=min((group.as_of_s for group in all_found.values()), default=at.now_s),
        head=head,
    )


def _findings_of_group(
    session: Session, garden_id: str, group: BedGroup, rulebook: Mapping[str, Any], at: Moment
) -> list[dict[str, Any]]:
    ledger = ledger_of_bed_group(session, garden_id, group, rulebook, at.today)
    subjects: list[Subject] = [("planting", planting) for planting in group.plantings]
    if group.bed is not None:
        subjects.append(("bed", group.bed))
    return [
        finding
        for subject in subjects
        for finding in findings_of_subject(ledger, subject, rulebook, at.today, at.now_s)
    ]


def _fresh(
    session: Session, garden_id: str, digest: str, at: Moment, bed: str | None
) -> dict[str, _Group]:
    rows = session.scalars(
        select(Standing)
        .where(
            Standing.garden_id == garden_id,
            Standing.today == at.today,
            Standing.digest == digest,
            Standing.as_of_s.between(at.now_s - KEPT_SECONDS, at.now_s),
            *([] if bed is None else [Standing.bed_group == bed]),
        )
        .execution_options(populate_existing=True)
    )
    read = {row.bed_group: _Group(json.loads(row.findings), row.as_of_s) for row in rows}
    return {
        group: kept
        for group, kept in read.items()
        if not any(_has_turned(finding, kept.as_of_s, at.now_s) for finding in kept.findings)
    }


def _has_turned(finding: Mapping[str, Any], since_s: int, now_s: int) -> bool:
    """Whether a span of this finding began or ended after it was worked out."""
    return any(
        instant is not None and since_s < instant <= now_s
        for instant in (finding.get("from"), finding.get("until"))
    )


def _store(
    garden_id: str,
    digest: str,
    at: Moment,
    head: int,
    computed: Mapping[str, Sequence[Mapping[str, Any]]],
) -> None:
    with writing() as session:
        if lock_garden(session, garden_id).head != head:
            return
        replaced = Standing.bed_group.in_(computed)
        outdated = or_(Standing.today < at.today - 1, Standing.digest != digest)
        session.execute(
            delete(Standing).where(
                Standing.garden_id == garden_id,
                or_(outdated, replaced & (Standing.today == at.today)),
            )
        )
        session.execute(
            insert(Standing),
            [
                {
                    "garden_id": garden_id,
                    "bed_group": group,
                    "today": at.today,
                    "digest": digest,
                    "as_of_s": at.now_s,
                    "head": head,
                    "findings": json.dumps(findings),
                }
                for group, findings in computed.items()
            ],
        )
