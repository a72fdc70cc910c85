"""The rules on a whole garden, and on the subjects that a change made worth another look."""

from collections.abc import Iterable

from shedbook.log.ledger import Ledger
from shedbook.log.view import view_of_bed, view_of_planting
from shedbook.rules.evaluate import evaluate
from shedbook.rules.finding import Finding
from shedbook.rules.long_ago import is_long_over, sight_of
from shedbook.rules.match import Json

# "bed" or "planting", and its id.
Subject = tuple[str, str]


def findings_of_garden(ledger: Ledger, rulebook: Json, today: int, now: int) -> list[Finding]:
    """Findings of every bed and planting, sorted by key."""
    found = [
        made
        for subject in subjects_touched(ledger, ["garden"])
        for made in findings_of_subject(ledger, subject, rulebook, today, now)
    ]
    return sorted(found, key=lambda made: made["key"])


def findings_of_subject(
    ledger: Ledger, subject: Subject, rulebook: Json, today: int, now: int
) -> list[Finding]:
    """Findings of one bed or planting, sorted by key; none when it is not known.

    A hidden bed has none either, a hidden planting only what withholds work in its bed, and one
    that is long over none.
    """
    kind, subject_id = subject
    if kind == "bed":
        sees = sight_of(ledger, subject_id, rulebook, today)
        view = view_of_bed(ledger, subject_id, sees=sees)
    else:
        planting = ledger.planting(subject_id)
        if planting is None or is_long_over(ledger, planting, today):
            return []
        sees = sight_of(ledger, planting.get("bed"), rulebook, today, planting)
        view = view_of_planting(ledger, subject_id, with_hidden=True, sees=sees)
    return [] if view is None else evaluate(view, rulebook, today, now)


def subjects_touched(ledger: Ledger, touched: Iterable[str]) -> list[Subject]:
    """The subjects whose findings may differ after entries touched these keys, hidden ones too."""
    keys = (key.partition(":") for key in ledger.reached_by(touched))
    return [(kind, subject_id) for kind, _, subject_id in keys]
