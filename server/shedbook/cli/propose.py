"""`shedbook propose`: where next season's wishes would go, or what may follow in one bed."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from shedbook.api.context import shed
from shedbook.api.findings import today_in
from shedbook.api.names import names_of_garden
from shedbook.cli.named import choose_bed
from shedbook.cli.opening import choose_garden, data_option, garden_option, open_shed
from shedbook.log.ledger import Ledger
from shedbook.log.moment import civil_date
from shedbook.log.view import view_of_bed
from shedbook.records.engine import now_ms
from shedbook.records.ledgers import read_ledger
from shedbook.records.models import db
from shedbook.reports.placing import SECONDS
from shedbook.reports.proposal import propose as place_wishes
from shedbook.rules.followers import Follower, followers, next_season_day, season_day
from shedbook.words import Names, Words, compose, finding_text, load_words

Told = Mapping[str, Any]


@dataclass(frozen=True)
class _Teller:
    """Finds the words for a garden's findings and reasons."""

    words: Words
    names: Names
    zone: str
    rules: Mapping[str, Told]

    def say(self, key: str, values: Told | None = None) -> str:
        """The text of a word key."""
        return compose(self.words, key, values, self.names, self.zone)

    def why(self, told: Told) -> Iterator[str]:
        """A line for each reason of a placed or unmet wish, and for each finding about it."""
        for reason in told.get("reasons", []):
            yield f"    {self.say(reason['key'], reason['values'])}"
        for made in told["findings"]:
            text = finding_text(self.words, made, self.rules[made["rule"]], self.names, self.zone)
            yield f"    {text['title']}: {text['message']}"


@click.command()
@click.option("--season", type=click.IntRange(1970, 2199), help="A year; else the next one.")
@click.option("--bed", help="What may follow in the bed of this name, instead of all wishes.")
@click.option(
    "--seconds", type=click.FloatRange(0.1, 3600), default=SECONDS, help="How long it may search."
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON, as the API answers.")
@garden_option
@data_option
def propose(
    season: int | None,
    bed: str | None,
    seconds: float,
    as_json: bool,
    wanted: str | None,
    data: Path | None,
) -> None:
    """Propose a bed for each wish of a season, with the least conflict; nothing is written down."""
    words = load_words()
    with open_shed(data).app_context():
        garden = choose_garden(wanted)
        ledger, rulebook = read_ledger(garden.id), shed().rulebook
        today, now = today_in(garden.zone, now_ms()), now_ms() // 1000
        names = names_of_garden(db.session(), garden.id, words)
        rules = {rule["id"]: rule for rule in rulebook["rules"]}
        teller = _Teller(words, names, garden.zone, rules)
        if bed is not None:
            chosen = choose_bed(ledger, bed)["id"]
            found: Any = _followers(ledger, rulebook, chosen, season, today, now)
            lines = _lines_of_bed(found, teller)
        else:
            year = civil_date(today)[0] + 1 if season is None else season
            found = place_wishes(ledger, rulebook, year, today, now, seconds)
            lines = _lines_of_season(found, teller)
        click.echo(json.dumps(found, ensure_ascii=False, indent=2) if as_json else "\n".join(lines))


def _followers(
    ledger: Ledger, rulebook: Told, bed: str, season: int | None, today: int, now: int
) -> Told:
    """Every crop that is known here, tried in the bed; those once grown or wished for go first."""
    view = view_of_bed(ledger, bed)
    assert view is not None
    settings = ledger.settings()
    day = next_season_day(settings, today) if season is None else season_day(settings, season)
    own = {str(one["crop"]) for one in ledger.plantings() if one.get("crop") and not one["hidden"]}
    crops = own | set(rulebook["crops"])
    return {
        "bed": bed,
        "day": day,
        "followers": followers(view, rulebook, today, now, day, crops, own),
    }


def _lines_of_bed(found: Told, teller: _Teller) -> Iterator[str]:
    yield teller.say("screen.followers.line", {"bed": found["bed"], "start_day": found["day"]})
    told: Follower
    for told in found["followers"]:
        yield ""
        values = {"crop": told["crop"], "points": told["cost"]}
        yield click.style(teller.say("screen.followers.crop", values), bold=True)
        yield from teller.why(told)
    yield ""
    yield teller.say("screen.followers.weights")


def _lines_of_season(found: Told, teller: _Teller) -> Iterator[str]:
    yield teller.say("screen.next_season.title", {"season_year": found["season"]})
    yield teller.say("screen.next_season.day", {"start_day": found["day"]})
    wishes = [wish for bed in found["beds"] for wish in bed["placed"]]
    if not wishes and not found["unmet"]:
        yield teller.say("screen.next_season.no_wishes")
        return
    for bed in found["beds"]:
        if bed["placed"]:
            yield ""
            yield click.style(teller.say("screen.who.bed", {"bed": bed["bed"]}), bold=True)
        for wish in bed["placed"]:
            yield f"  {teller.say('screen.next_season.placed', wish | {'points': wish['cost']})}"
            yield from teller.why(wish)
    if found["unmet"]:
        yield ""
        yield click.style(teller.say("screen.next_season.unmet"), bold=True)
    for wish in found["unmet"]:
        yield f"  {teller.say('screen.next_season.wish', wish)}"
        yield from teller.why(wish)
    yield ""
    key = "best" if found["is_best"] else "gap"
    yield teller.say(f"screen.next_season.{key}", {"points": found["cost"], "gap": found["gap"]})
    yield teller.say("screen.followers.weights")
