"""The part of `shedbook import` that takes a table: shows every row, asks, then stores all."""

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import click

from shedbook.cli.opening import ChosenGarden, choose_garden
from shedbook.cli.pair import first_lead
from shedbook.cli.progress import shown
from shedbook.cli.terminal import draft_entries, terminal_of
from shedbook.keeping.csv_cells import Writing
from shedbook.keeping.csv_columns import EVENT_KINDS, MappingUnfit, read_columns, read_pairs
from shedbook.keeping.csv_places import BedBook
from shedbook.keeping.csv_text import CsvUnreadable, read_table
from shedbook.keeping.import_csv import Row, Table, read_rows
from shedbook.keeping.take_in import Draft, NotTakenIn, ids_in_log, ids_of, take_in
from shedbook.records.engine import now_ms
from shedbook.records.ledgers import read_ledger
from shedbook.records.models import db
from shedbook.words import load_words


def import_table(
    file: Path,
    wanted: str | None,
    columns: Sequence[str],
    fixed: Sequence[str],
    kinds: Sequence[str],
    writing: Writing,
    *,
    sure: bool,
    accept: bool,
) -> None:
    """Read, show, ask, store. Needs an app context."""
    garden = choose_garden(wanted)
    rows = _read(file, garden, columns, fixed, kinds, writing)
    take_rows(garden, rows, sure=sure, accept=accept)


def take_rows(garden: ChosenGarden, rows: Sequence[Row], *, sure: bool, accept: bool) -> None:
    """Show what the rows say, ask, then store all of them or none."""
    drafts = [_checked(row, sure=sure) for row in rows]
    _refuse_wrong(rows, sure=sure)
    new = _without_known(garden, rows, [draft for draft in drafts if draft is not None])
    if not new:
        click.echo("Every row is in the log already.")
        return
    counts = Counter(draft.kind for _, draft in new)
    listed = ", ".join(f"{count} {kind}" for kind, count in sorted(counts.items()))
    click.echo(f"{len(new)} entries for {garden.name}: {listed}.")
    if not accept:
        click.confirm("Store them?", abort=True)
    _store(garden, new)
    click.echo(f"Stored {len(new)} entries.")


def _read(
    file: Path,
    garden: ChosenGarden,
    columns: Sequence[str],
    fixed: Sequence[str],
    kinds: Sequence[str],
    writing: Writing,
) -> list[Row]:
    words = load_words()
    try:
        headers, cells = read_table(file)
        own_words = read_pairs(kinds)
        for kind in own_words.values():
            if kind not in EVENT_KINDS:
                raise MappingUnfit(f"{kind} is no kind. The kinds are: {', '.join(EVENT_KINDS)}.")
        mapped = read_columns(headers, read_pairs(columns), read_pairs(fixed))
    except MappingUnfit as error:
        raise click.UsageError(str(error)) from error
    except CsvUnreadable as error:
        raise click.ClickException(str(error)) from error
    table = Table(mapped, writing, own_words, garden.zone, words)
    return read_rows(cells, table, BedBook(read_ledger(garden.id), words), now_ms() // 1000)


def _checked(row: Row, *, sure: bool) -> Draft | None:
    return row.draft if sure or not row.oddities else None


def _refuse_wrong(rows: Sequence[Row], *, sure: bool) -> None:
    """Every reason of every row, and then nothing is stored."""
    wrong = 0
    is_odd = False
    for row in rows:
        odd = [] if sure else row.oddities
        for told in [*row.problems, *odd]:
            click.echo(f"line {row.line}: {told}", err=True)
        wrong += bool(row.problems or odd)
        is_odd = is_odd or bool(odd)
    if wrong:
        remedy = " Add --sure if what is unusual is right." if is_odd else ""
        raise click.ClickException(
            f"Nothing was stored: {wrong} of {len(rows)} rows can't be taken in.{remedy}"
        )


def _without_known(
    garden: ChosenGarden, rows: Sequence[Row], drafts: Sequence[Draft]
) -> list[tuple[str, Draft]]:
    """What is new, with its ids; each row is shown on the way."""
    ids = ids_of(garden.id, drafts)
    known = ids_in_log(db.session(), garden.id, ids)
    new = []
    for row, entry_id, draft in zip(rows, ids, drafts, strict=True):
        details = " ".join(f"{name}={value}" for name, value in draft.details.items())
        moment = f"{draft.happened_at:%Y-%m-%d %H:%M}"
        note = "  (in the log already, left out)" if entry_id in known else ""
        click.echo(f"line {row.line}: {moment}  {draft.kind}  {details}{note}")
        if entry_id not in known:
            new.append((entry_id, draft))
    return new


def _store(garden: ChosenGarden, new: Sequence[tuple[str, Draft]]) -> None:
    terminal = terminal_of(garden, first_lead(garden))
    at_ms = now_ms()
    entries = draft_entries(terminal, [draft for _, draft in new], at_ms)
    for entry, (entry_id, _) in zip(entries, new, strict=True):
        entry["id"] = entry_id
    try:
        with shown("Storing") as show:
            take_in(terminal, entries, at_ms, show)
    except NotTakenIn as error:
        raise click.ClickException(f"Nothing was stored. {error}") from error
