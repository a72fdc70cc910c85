"""`shedbook record`: one entry from the terminal, checked as strictly as a form checks it."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import click

from shedbook.cli.fields import field_values, plant_numbers
from shedbook.cli.named import choose_bed, choose_planting, planting_name
from shedbook.cli.opening import choose_garden, data_option, garden_option, open_shed
from shedbook.cli.pair import first_lead
from shedbook.cli.terminal import draft_entry, send_entry, terminal_of
from shedbook.log.check import check_entry
from shedbook.log.kinds import KINDS
from shedbook.log.ledger import Ledger
from shedbook.records.engine import now_ms
from shedbook.records.ledgers import read_ledger

# Beds and plantings are made where a form can show their fields; mending needs an entry to look at.
_KINDS = sorted(
    name for name, kind in KINDS.items() if not kind.structural and kind.group != "book"
)
_FORMS = ["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M"]


@click.command()
@click.argument("kind", type=click.Choice([*_KINDS, "note"]), metavar="KIND")
@click.argument("words", nargs=-1, metavar="[FIELD=VALUE]...")
@click.option("--bed", help="Name of the bed.")
@click.option("--planting", help="Crop or variety of the planting.")
@click.option("--plants", metavar="NUMBERS", help="Which plants of it, such as 1-8 or 1,4,7.")
@click.option("--sure", is_flag=True, help="Take it though it is unusual.")
@click.option("--at", type=click.DateTime(_FORMS), help="When, in the garden's time. Else now.")
@garden_option
@data_option
def record(
    kind: str,
    words: Sequence[str],
    bed: str | None,
    planting: str | None,
    plants: str | None,
    sure: bool,
    at: datetime | None,
    wanted: str | None,
    data: Path | None,
) -> None:
    """Write one entry into the log.

    \b
    shedbook record water --bed "Long bed" volume_l=40 method=drip
    shedbook record pick --planting tomato --plants 1-8 count=12 mass_g=900

    KIND is what was done or measured, such as water, feed, pick, scout, treat, rain or note. What a
    form would ask about again, such as an unusual amount, is refused unless you are --sure.
    """
    details = field_values(kind, words)
    ordinals = plant_numbers(plants) if plants else []
    with open_shed(data).app_context():
        garden = choose_garden(wanted)
        subjects = _subjects(read_ledger(garden.id), bed, planting, ordinals)
        terminal = terminal_of(garden, first_lead(garden))
        present_ms = now_ms()
        zone = ZoneInfo(garden.zone)
        happened = (
            at.replace(tzinfo=zone) if at else datetime.fromtimestamp(present_ms // 1000, zone)
        )
        entry = draft_entry(terminal, kind, subjects, details, happened, present_ms)
        checked = check_entry(entry, present_ms // 1000)
        _refuse(checked.unreadable | checked.problems)
        if not sure:
            _refuse(checked.remarks, "Add --sure if it is right.")
        answer = send_entry(terminal, entry, present_ms)
    if answer.result != "accepted":
        _refuse(answer.problems)
        raise click.ClickException(f"The log did not take it: {answer.hint or answer.result}")
    click.echo(f"Recorded {kind} as entry {answer.seq} of {garden.name}.")


def _subjects(
    ledger: Ledger, bed: str | None, planting: str | None, ordinals: list[int]
) -> dict[str, Any]:
    subjects: dict[str, Any] = {}
    if bed is not None:
        subjects["bed"] = choose_bed(ledger, bed)["id"]
    if planting is not None:
        chosen = choose_planting(ledger, planting, subjects.get("bed"))
        subjects["planting"] = chosen["id"]
        # The bed in which it stands now, as a phone would write it down.
        if chosen.get("bed") is not None:
            subjects["bed"] = chosen["bed"]
        count = chosen.get("plants")
        if count is not None and ordinals and ordinals[-1] > count:
            name = planting_name(chosen)
            raise click.UsageError(f"--plants: {name} has the plants 1 to {int(count)}.")
    if ordinals:
        if planting is None:
            raise click.UsageError("--plants needs --planting: plants are numbered within it.")
        subjects["plants"] = ordinals
    return subjects


def _refuse(texts: Mapping[str, Sequence[str]], remedy: str | None = None) -> None:
    if not texts:
        return
    listed = "\n".join(
        f"  {path.removeprefix('details.')}: {' '.join(said)}" for path, said in texts.items()
    )
    closing = f"\n{remedy}" if remedy else ""
    raise click.ClickException(f"Nothing was recorded.\n{listed}{closing}")
