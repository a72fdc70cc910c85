"""`shedbook reckon`: fertilizer and compost in every measure, without a garden or a log."""

from collections.abc import Sequence
from typing import Any

import click

from shedbook.agronomy.errors import AgronomyError
from shedbook.agronomy.fertilizer import area_per_plant
from shedbook.crops import load_fertilizers
from shedbook.rules.reckoning import UNITS, Asked, Line, reckon_compost, reckon_feed
from shedbook.words import compose, load_words

_MATERIALS = tuple(sorted(load_fertilizers()))
_ASKS = {
    "no_area": "Name the area with --area.",
    "no_ground": "Name --in-row and --between-rows.",
    "no_weight": f"Name --material ({', '.join(_MATERIALS)}), or ask in grams.",
}


class Grade(click.ParamType[tuple[float, float, float]]):
    """The numbers on a bag: 21-0-0, or the first alone."""

    name = "N-P-K"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[float, float, float]:
        if isinstance(value, tuple):
            return value
        try:
            numbers = [float(part) for part in str(value).split("-")]
        except ValueError:
            numbers = []
        if len(numbers) not in (1, 3) or not 0 < numbers[0] <= 100:
            self.fail("Write it as on the bag, like 21-0-0; the first number above 0.", param, ctx)
        n, p, k = numbers if len(numbers) == 3 else (*numbers, 0.0, 0.0)
        return n, p, k


@click.group()
def reckon() -> None:
    """Reckon amounts of fertilizer or compost from one measure into the others."""


@reckon.command()
@click.argument("amount", type=click.FloatRange(min=0))
@click.argument("unit", type=click.Choice(UNITS))
@click.option("--grade", type=Grade(), required=True, help="The numbers on the bag.")
@click.option("--material", type=click.Choice(_MATERIALS), help="What it is, for cups and spoons.")
@click.option("--plants", type=click.IntRange(min=1), help="How many plants.")
@click.option("--in-row", type=float, metavar="CM", help="From plant to plant.")
@click.option("--between-rows", type=float, metavar="CM", help="From row to row.")
@click.option("--area", type=float, metavar="M2", help="Of the bed, where it is not plants alone.")
def feed(
    amount: float,
    unit: str,
    grade: tuple[float, float, float],
    material: str | None,
    plants: int | None,
    in_row: float | None,
    between_rows: float | None,
    area: float | None,
) -> None:
    """AMOUNT of UNIT as rate, grams, cups and spoons; kg_per_ha and lb_* are of nitrogen.

    Such as: shedbook reckon feed 30 lb_per_acre --grade 21-0-0 --in-row 45 --between-rows 60
    """
    published: Sequence[Any] = load_fertilizers()[material]["published"] if material else ()
    try:
        is_spaced = in_row is not None and between_rows is not None
        ground = (
            area_per_plant((in_row or 0) / 100, (between_rows or 0) / 100) if is_spaced else None
        )
        whole = ground * plants if area is None and ground is not None and plants else area
        _print(reckon_feed(Asked(*grade, unit, amount, ground, whole, published)))
    except AgronomyError as error:
        raise click.ClickException(str(error)) from error


@reckon.command()
@click.option("--area", type=click.FloatRange(min=0), required=True, metavar="M2")
@click.option("--depth", type=click.FloatRange(min=0), required=True, metavar="MM")
def compost(area: float, depth: float) -> None:
    """Litres of compost that lie so deep on an area."""
    try:
        _print(reckon_compost(area, depth))
    except AgronomyError as error:
        raise click.ClickException(str(error)) from error


def _print(lines: Sequence[Line]) -> None:
    words = load_words()
    key = lines[0][0]
    if key in _ASKS:
        raise click.UsageError(f"{compose(words, f'screen.reckon.{key}')} {_ASKS[key]}")
    for name, values in lines:
        click.echo(compose(words, f"screen.reckon.{name}", values))
    if any(name in ("spoons", "cups") or name.endswith("_between") for name, _ in lines):
        click.echo(compose(words, "screen.reckon.weights"))
