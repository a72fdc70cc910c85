"""`shedbook scouting`: what was looked for on the plants, round by round, in a terminal."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import click

from shedbook.api.context import shed
from shedbook.api.findings import today_in
from shedbook.api.names import names_of_garden
from shedbook.cli.named import choose_bed
from shedbook.cli.opening import choose_garden, data_option, garden_option, open_shed
from shedbook.records.engine import now_ms
from shedbook.records.ledgers import read_ledger
from shedbook.records.models import db
from shedbook.reports.scouting import scouting_report
from shedbook.words import Names, Words, compose, format_value, load_words

Told = Mapping[str, Any]


@click.command()
@click.option("--bed", help="Only what was looked for in the bed of this name.")
@click.option("--organism", metavar="ID", help="Only this one, such as aphids.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, as the API answers.")
@garden_option
@data_option
def scouting(
    bed: str | None, organism: str | None, as_json: bool, wanted: str | None, data: Path | None
) -> None:
    """Tell of pests, diseases and helpers looked for: shares, hot spots, progress, traps."""
    words = load_words()
    with open_shed(data).app_context():
        garden = choose_garden(wanted)
        now = now_ms()
        ledger = read_ledger(garden.id)
        bed_id = None if bed is None else choose_bed(ledger, bed)["id"]
        today = today_in(garden.zone, now)
        found = scouting_report(ledger, shed().rulebook, today, now // 1000, bed_id, organism)
        if as_json:
            click.echo(json.dumps(found, ensure_ascii=False, indent=2))
            return
        names = names_of_garden(db.session(), garden.id, words)
        click.echo("\n".join(_lines(found, names, words)))


def _lines(found: Told, names: Names, words: Words) -> Iterator[str]:
    yield compose(words, "screen.scouting.title")
    if not found["looked"] and not found["catches"]:
        yield compose(words, "screen.scouting.none")
    for told in found["looked"]:
        yield ""
        place = ", ".join(names[one] for one in (told["bed"], told["planting"]) if one in names)
        organism = format_value(words, "organism", told["organism"], names, "UTC")
        yield click.style(f"{organism}: {place}", bold=True)
        for session in told["sessions"]:
            yield from (f"  {line}" for line in _of_session(session, words))
        if told["progress"] is not None:
            yield "  " + compose(words, "screen.scouting.progress", told["progress"])
    for caught in found["catches"]:
        yield ""
        yield click.style(compose(words, "screen.scouting.trap", caught), bold=True)
        for week in caught["weeks"]:
            key = "week" if week["a_week"] is not None else "week_open"
            yield "  " + compose(words, f"screen.scouting.{key}", week)


def _of_session(session: Told, words: Words) -> Iterator[str]:
    decision = compose(words, f"screen.scouting.decision.{session['decision']}")
    key = "uncounted" if session["looked"] is None else "session"
    yield compose(words, f"screen.scouting.{key}", session) + " " + decision
    if session["mean"] is not None:
        yield "  " + compose(words, "screen.scouting.mean", {**session, "per_what": session["per"]})
    if session["clumping"] is not None:
        values = session["clumping"] | {"chance_share": session["clumping"]["chance"]}
        yield "  " + compose(words, "screen.scouting.clumping", values)
    spot = session["hot_spot"]
    yield "  " + compose(words, f"screen.scouting.{spot['key']}", spot["values"])
