"""`shedbook could-be`: likely causes from signs, ranked as on the phone. It is no diagnosis."""

import difflib
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from shedbook.api.findings import today_in
from shedbook.cli.named import choose_planting, planting_name
from shedbook.cli.opening import choose_garden, data_option, garden_option, open_shed
from shedbook.log.view import view_of_planting
from shedbook.records.engine import now_ms
from shedbook.records.ledgers import read_ledger
from shedbook.rules.rulebook import load_rulebook
from shedbook.rules.troubles import could_be as rank
from shedbook.rules.troubles import shown_by, troubles_of
from shedbook.rules.weather_features import stage_of, weather_features
from shedbook.words import Words, compose, load_words

MOST_SHOWN = 5
NEAR = 4
UNTOLD: dict[str, Any] = {"features": {}, "stage": None}

Json = Mapping[str, Any]


@click.command("could-be")
@click.option("--crop", help="The crop, such as pepper.")
@click.option("--planting", help="A planting of the garden: its crop, stage and logged weather.")
@click.option("--sign", "signs", multiple=True, metavar="SIGN", help="What is seen; several times.")
@click.option("--list", "as_list", is_flag=True, help="List the signs that can be named.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@garden_option
@data_option
def could_be(
    crop: str | None,
    planting: str | None,
    signs: Sequence[str],
    as_list: bool,
    as_json: bool,
    wanted: str | None,
    data: Path | None,
) -> None:
    """Rank the likely causes of what is seen on a plant, with what speaks for and against each."""
    words = load_words()
    own: Any = None
    at = UNTOLD
    if planting is not None:
        crop, own, at, named = _of_planting(planting, wanted, data)
    elif crop is None:
        raise click.UsageError("Name what grows there: --crop pepper, or --planting NAME.")
    else:
        named = compose(words, "screen.value.crop", {"crop": _known_crop(crop)})
    book = load_rulebook()
    shown = shown_by(troubles_of(book, crop, own))
    if as_list:
        _print_signs(book["signs"], shown, words)
        return
    answer = rank(book, crop, own, [_known_sign(sign, shown) for sign in signs], at)
    if as_json:
        click.echo(json.dumps(answer, ensure_ascii=False, indent=2))
        return
    click.echo(compose(words, "terminal.could_be.heading", {"name": named}))
    _print_answer(answer, book, words)


def _of_planting(
    planting: str, wanted: str | None, data: Path | None
) -> tuple[str | None, Any, dict[str, Any], str]:
    """Crop, the garden's own crops, weather and stage of a planting, and its name."""
    with open_shed(data).app_context():
        garden = choose_garden(wanted)
        ledger = read_ledger(garden.id)
        chosen = choose_planting(ledger, planting, None)
        view: Json = view_of_planting(ledger, chosen["id"]) or {"events": [], "bed": None}
        today = today_in(garden.zone, now_ms())
        days = int(load_rulebook()["ranking"]["weather_days"])
        at = {
            "features": weather_features(view["events"], view["bed"], today, days),
            "stage": stage_of(chosen),
        }
        return chosen.get("crop"), ledger.settings().get("crops"), at, planting_name(chosen)


def _known_crop(crop: str) -> str:
    crops = load_rulebook()["crops"]
    if crop in crops:
        return crop
    near = difflib.get_close_matches(crop, crops, NEAR)
    raise click.UsageError(f"No crop is called {crop}.{_perhaps(near)}")


def _known_sign(sign: str, shown: Mapping[str, int]) -> str:
    """The sign, or a refusal with those that are near by spelling or by part of the name."""
    if sign in shown:
        return sign
    near = difflib.get_close_matches(sign, shown, NEAR)
    parts = set(sign.split("_"))
    near += [one for one in sorted(shown) if parts & set(one.split("_")) and one not in near]
    raise click.UsageError(
        f"No sign of this crop is called {sign}.{_perhaps(near[:NEAR])} List them with --list."
    )


def _perhaps(near: Sequence[str]) -> str:
    return f" Near it: {', '.join(near)}." if near else ""


def _print_signs(catalogue: Json, shown: Mapping[str, int], words: Words) -> None:
    for organ, signs in catalogue.items():
        here = [sign for sign in signs if sign in shown]
        if here:
            click.echo(f"\n{words[f'organ.{organ}']}")
            for sign in here:
                click.echo(f"  {sign:26} {words[f'sign.{sign}']}")


def _print_answer(answer: Json, book: Json, words: Words) -> None:
    """The verdict first, then cause by cause."""
    click.echo(words[f"could_be.{answer['why'] or answer['verdict']}"])
    for told in answer["tell_apart"]:
        trouble = answer["ranked"][told["speaks_for"]]["trouble"]
        values = {"sign": words[f"sign.{told['sign']}"], "trouble": words[f"trouble.{trouble}"]}
        click.echo(f"  - {compose(words, 'could_be.speaks_for', values)}")
    for place, one in enumerate(answer["ranked"][:MOST_SHOWN], start=1):
        points = compose(words, "could_be.points", {"points": one["points"]})
        name = click.style(words[f"trouble.{one['trouble']}"], bold=True)
        click.echo(f"\n{place}. {name}, {points}")
        for line in _lines(one, book, words):
            click.echo(f"   {line}")


def _lines(one: Json, book: Json, words: Words) -> list[str]:
    """What is told of one cause."""
    row = book["troubles"][one["trouble"]]
    days = book["ranking"]["weather_days"]
    lines = [words[f"trouble.{one['trouble']}.note"]]
    for part in ("for", "against"):
        told = [
            compose(words, "could_be.weight", weighed | {"sign": words[f"sign.{weighed['sign']}"]})
            for weighed in sorted(one[part], key=lambda weighed: -weighed["weight"])
        ]
        if told:
            lines.append(f"{words[f'screen.could_be.{part}']}: {'; '.join(told)}")
    missing = "; ".join(words[f"sign.{sign}"] for sign in one["missing"])
    lines.append(f"{words['screen.could_be.missing']}: {missing}")
    for moved in one["weather"]:
        values = {"value": moved["value"], "value_mm": moved["value"], "days": days}
        feature = compose(words, f"could_be.feature.{moved['feature']}", values)
        key = "likelier" if moved["factor"] > 1 else "less_likely"
        values = {"feature_words": feature, "factor": moved["factor"]}
        lines.append(compose(words, f"could_be.{key}", values))
    if one["other_stage"]:
        lines.append(words["could_be.other_stage"])
    lines.append(f"{words['screen.could_be.first']}:")
    lines += [f"  - {words[f'measure.{measure}']}" for measure in row["measures"]]
    when = words[f"sample.{row['sample']}"]
    return [*lines, compose(words, "screen.could_be.sample", {"when": when})]
