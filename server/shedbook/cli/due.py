"""`shedbook due`: the findings of the dashboard, in a terminal, in the same words."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from shedbook.api.context import shed
from shedbook.api.findings import DAY_SECONDS, today_in
from shedbook.api.names import names_of_garden
from shedbook.cli import told
from shedbook.cli.known import print_known
from shedbook.cli.named import choose_bed
from shedbook.cli.opening import ChosenGarden, choose_garden, data_option, garden_option, open_shed
from shedbook.log.moment import parse_day
from shedbook.records.engine import now_ms
from shedbook.records.ledgers import read_ledger
from shedbook.records.models import db
from shedbook.records.standing import Moment, standing_of_garden
from shedbook.words import Words, finding_text, format_value, load_words

# What is late comes first, what is only told comes last.
STATES = ("overdue", "due", "blocked", "flagged", "unknown", "upcoming", "noted")

Finding = Mapping[str, Any]


@click.command()
@click.option("--bed", help="Only what concerns the bed of this name.")
@click.option("--state", "states", multiple=True, type=click.Choice(STATES), help="Only these.")
@click.option("--why", "key", metavar="KEY", help="How one finding came about; KEY as listed.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, as the API answers.")
@click.option("--today", metavar="DATE", help="As of another day, such as 2026-06-01.")
@garden_option
@data_option
def due(
    bed: str | None,
    states: Sequence[str],
    key: str | None,
    as_json: bool,
    today: str | None,
    wanted: str | None,
    data: Path | None,
) -> None:
    """List what is due: late first, then due, then what is blocked or not known."""
    words = load_words()
    with open_shed(data).app_context():
        garden = choose_garden(wanted)
        moment = _moment(garden, today)
        findings = _findings(garden, moment, words, is_kept=today is None)
        if bed is not None:
            bed_id = choose_bed(read_ledger(garden.id), bed)["id"]
            findings = [one for one in findings if one["subject"].get("bed") == bed_id]
        findings = [one for one in findings if not states or one["state"] in states]
        names = names_of_garden(db.session(), garden.id, words)
        if key is not None:
            findings = [_choose_finding(findings, key)]
        if as_json:
            click.echo(json.dumps(findings, ensure_ascii=False, indent=2))
        elif key is not None:
            told.print_reasons(findings[0], names, words)
        else:
            day = format_value(words, "day", moment.today, names, garden.zone)
            told.print_findings(findings, names, words, f"{garden.name}, {day}", states)
            print_known(garden, words, now_ms())


def _moment(garden: ChosenGarden, today: str | None) -> Moment:
    """Another day is looked at from the same time of its day, as the API does."""
    present_ms = now_ms()
    actual = today_in(garden.zone, present_ms)
    try:
        day = actual if today is None else parse_day(today)
    except ValueError as error:
        raise click.BadParameter(str(error), param_hint="--today") from error
    return Moment(day, present_ms // 1000 + (day - actual) * DAY_SECONDS)


def _findings(
    garden: ChosenGarden, at: Moment, words: Words, *, is_kept: bool
) -> list[dict[str, Any]]:
    """All findings with their texts, the most pressing first."""
    rulebook = shed().rulebook
    rules = {rule["id"]: rule for rule in rulebook["rules"]}
    names = names_of_garden(db.session(), garden.id, words)
    found = standing_of_garden(garden.id, rulebook, at, keep=is_kept).findings

    def pressing(one: Finding) -> tuple[int, int, str]:
        return STATES.index(one["state"]), -rules[one["rule"]].get("urgency", 0), one["key"]

    return [
        one | {"text": finding_text(words, one, rules[one["rule"]], names, garden.zone)}
        for one in sorted(found, key=pressing)
    ]


def _choose_finding(findings: Sequence[dict[str, Any]], key: str) -> dict[str, Any]:
    """The finding of this key, or the only one whose key holds this text."""
    exact = [one for one in findings if one["key"] == key]
    found = exact or [one for one in findings if key in one["key"]]
    if len(found) == 1:
        return found[0]
    if found:
        listed = "\n".join(f"  {one['key']}" for one in found)
        raise click.UsageError(f"More than one finding fits --why {key}. Choose one:\n{listed}")
    raise click.UsageError(f"No finding has the key {key}. List them with: shedbook due")
