"""`shedbook review`: a season looked back on, in a terminal."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import click

from shedbook.api.context import shed
from shedbook.api.findings import today_in
from shedbook.api.names import names_of_garden
from shedbook.cli.opening import choose_garden, data_option, garden_option, open_shed
from shedbook.log.moment import civil_date
from shedbook.records.engine import now_ms
from shedbook.records.ledgers import read_ledger
from shedbook.records.models import db
from shedbook.reports.review import review as look_back
from shedbook.words import Names, Words, compose, finding_text, load_words

Told = Mapping[str, Any]


@click.command()
@click.option("--season", type=click.IntRange(1970, 2199), help="A year; else this one.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, as the API answers.")
@garden_option
@data_option
def review(season: int | None, as_json: bool, wanted: str | None, data: Path | None) -> None:
    """Look back on a season: what each planting gave and lost, and what the figures rest on."""
    words = load_words()
    with open_shed(data).app_context():
        garden = choose_garden(wanted)
        today = today_in(garden.zone, now_ms())
        year = civil_date(today)[0] if season is None else season
        rulebook = shed().rulebook
        found = look_back(read_ledger(garden.id), rulebook, year, today, now_ms() // 1000)
        if as_json:
            click.echo(json.dumps(found, ensure_ascii=False, indent=2))
            return
        names = names_of_garden(db.session(), garden.id, words)
        rules = {rule["id"]: rule for rule in rulebook["rules"]}
        click.echo("\n".join(_lines(found, rules, names, words, garden.zone)))


def _lines(
    found: Told, rules: Mapping[str, Told], names: Names, words: Words, zone: str
) -> Iterator[str]:
    yield compose(words, "screen.review.title", {"season_year": found["season"]})
    if not found["plantings"]:
        yield compose(words, "screen.review.empty")
    for told in found["plantings"]:
        yield ""
        yield click.style(names.get(told["planting"], told["planting"]), bold=True)
        yield from (f"  {line}" for line in _of_planting(told, words))
        for finding in told["findings"]:
            text = finding_text(words, finding, rules[finding["rule"]], names, zone)
            yield f"  {text['title']}. {text['message']}"
        for why in told["water"]:
            yield "  " + compose(words, f"reason.{why['key']}", why["values"], names, zone)
    yield ""
    if found["thirst"] is not None:
        yield compose(words, "screen.review.thirst", found["thirst"])
        if found["thirst"]["station_days"]:
            yield compose(words, "screen.review.station", found["thirst"])
    yield compose(words, "screen.review.treatments", {"count": len(found["treatments"])})
    yield compose(words, "screen.review.no_cause")


def _of_planting(told: Told, words: Words) -> Iterator[str]:
    yield compose(words, "screen.review.stood", told)
    if told["picked_count"] is not None:
        yield compose(words, "screen.review.picked_count", told)
    if told["picked_g"] is not None:
        yield compose(words, "screen.review.picked_mass", {"kg": told["picked_g"] / 1000})
    for name, key in (
        ("count_per_plant", "count_each"),
        ("g_per_plant", "g_each"),
        ("g_per_m2", "g_area"),
    ):
        if told[name] is not None:
            yield compose(words, f"screen.review.{key}", {"amount": told[name]})
    for loss in told["losses"]:
        key = "loss_mass" if loss["count"] is None else "loss"
        what = words.get(f"choice.cause.{loss['cause']}", loss["cause"])
        values = {"what": what, "count": loss["count"], "kg": (loss["mass_g"] or 0) / 1000}
        yield compose(words, f"screen.review.{key}", values)
    rests = told["rests_on"]
    counts = {f"{kind}s": rests["entries"].get(kind, 0) for kind in ("pick", "water", "discard")}
    yield compose(words, "screen.review.rests_on", counts | {"weighed": rests["picks_weighed"]})
