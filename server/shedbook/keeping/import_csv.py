"""A grower's own table as drafts of entries, with every reason why a row can't be one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from shedbook.keeping.csv_cells import (
    CellUnfit,
    Writing,
    read_date,
    read_plants,
    read_time,
    read_value,
)
from shedbook.keeping.csv_columns import EVENT_KINDS, Columns, field_names
from shedbook.keeping.csv_places import BedBook
from shedbook.keeping.take_in import Draft
from shedbook.log.check import check_details, schema_of
from shedbook.log.evident import YEAR_2000
from shedbook.log.kinds import KINDS
from shedbook.log.kinds.texts import say
from shedbook.log.moment import DAY_SECONDS
from shedbook.words import Words


@dataclass(frozen=True)
class Table:
    """How a table is to be read: its columns, its way of writing, its own words for kinds."""

    columns: Columns
    writing: Writing
    kinds: Mapping[str, str]
    zone: str
    words: Words


@dataclass
class Row:
    """One row: a draft, or what is wrong with it by the header of the column.

    `oddities` are what a form would ask about again, such as an unusual amount.
    """

    line: int
    draft: Draft | None = None
    problems: list[str] = field(default_factory=list)
    oddities: list[str] = field(default_factory=list)


def read_rows(
    rows: Sequence[tuple[int, list[str]]], table: Table, places: BedBook, now_s: int
) -> list[Row]:
    """Every row of the table, read and checked as strictly as a form checks."""
    names = kind_names(table.words) | {own.casefold(): kind for own, kind in table.kinds.items()}
    return [_RowReader(line, cells, table, places, names, now_s).read() for line, cells in rows]


def kind_names(words: Words) -> dict[str, str]:
    """Each kind by its name and by the words on its button and in the log, in small letters."""
    names: dict[str, str] = {}
    for kind in EVENT_KINDS:
        for key in (f"kind.{kind}", f"kind.{kind}.done"):
            names.setdefault(words.get(key, kind).casefold(), kind)
    return names | {kind: kind for kind in EVENT_KINDS}


def date_problem(happened_at: datetime, now_s: int) -> str | None:
    """Why nothing can have happened then."""
    instant = happened_at.timestamp()
    if instant > now_s + DAY_SECONDS:
        return say("in_the_future")
    return say("long_ago") if instant < YEAR_2000 else None


class _RowReader:
    """Collects all that is wrong with a row before giving it up."""

    def __init__(
        self,
        line: int,
        cells: Sequence[str],
        table: Table,
        places: BedBook,
        names: Mapping[str, str],
        now_s: int,
    ) -> None:
        self._row = Row(line)
        self._cells = cells
        self._table = table
        self._columns = table.columns
        self._places = places
        self._names = names
        self._now_s = now_s

    def read(self) -> Row:
        happened_at = self._happened_at()
        kind = self._kind()
        if kind is None or happened_at is None:
            return self._row
        subjects = self._subjects(kind, happened_at)
        details = self._details(kind)
        checked = check_details(KINDS[kind], subjects, details)
        for path, texts in checked.problems.items():
            # What could not be read at all has said so already.
            if path != "details" or not self._row.problems:
                self._tell(self._target(kind, path), *texts)
        for path, texts in checked.remarks.items():
            label = self._columns.label(self._target(kind, path))
            self._row.oddities.append(f"{label}: {' '.join(texts)}")
        if not self._row.problems:
            self._row.draft = Draft(kind, subjects, details, happened_at)
        return self._row

    def _text(self, target: str) -> str:
        return self._columns.text(target, self._cells)

    def _tell(self, target: str, *texts: str) -> None:
        self._row.problems.append(f"{self._columns.label(target)}: {' '.join(texts)}")

    def _happened_at(self) -> datetime | None:
        found: dict[str, Any] = {}
        for target in ("date", "time"):
            try:
                text = self._text(target)
                writing = self._table.writing
                found[target] = read_date(text, writing) if target == "date" else read_time(text)
            except (CellUnfit, ValueError) as error:
                self._tell(target, str(error))
        if len(found) < 2:
            return None
        day, (hour, minute) = found["date"], found["time"]
        zone = ZoneInfo(self._table.zone)
        happened_at = datetime(day.year, day.month, day.day, hour, minute, tzinfo=zone)
        wrong = date_problem(happened_at, self._now_s)
        if wrong is not None:
            self._tell("date", wrong)
        return happened_at

    def _kind(self) -> str | None:
        text = self._text("kind")
        kind = self._names.get(text.casefold())
        if kind is None:
            self._tell(
                "kind",
                f"{text or 'An empty cell'} is no kind of work. Say what it means with "
                f"--kinds, such as --kinds {text or 'Watered'}=water.",
            )
        return kind

    def _subjects(self, kind: str, happened_at: datetime) -> dict[str, Any]:
        subjects: dict[str, Any] = {}
        try:
            subjects |= self._places.find(
                self._text("bed"),
                self._text("planting"),
                happened_at.date(),
                needs_planting=KINDS[kind].subjects["planting"] == "required",
            )
        except CellUnfit as error:
            self._tell("planting" if self._text("planting") else "bed", str(error))
        if plants := self._text("plants"):
            try:
                subjects["plants"] = self._places.among(
                    subjects.get("planting"), read_plants(plants)
                )
            except CellUnfit as error:
                self._tell("plants", str(error))
        return subjects

    def _details(self, kind: str) -> dict[str, Any]:
        details: dict[str, Any] = {}
        schema = {form.data_key or name: form for name, form in schema_of(kind).fields.items()}
        for name, form in schema.items():
            target = self._target(kind, f"details.{name}")
            text = self._text(target)
            if not text:
                continue
            try:
                details[name] = read_value(form, name, text, self._table.writing, self._table.words)
            except (CellUnfit, ValueError) as error:
                self._tell(target, str(error))
        for target in self._columns.plain_fields():
            if target not in schema and self._text(target):
                known = ", ".join(field_names(kind))
                self._tell(target, f"{kind} has no field {target}. Its fields are: {known}.")
        return details

    def _target(self, kind: str, path: str) -> str:
        """Which mapped target a path of the check comes from."""
        # What concerns several fields at once is told at the column that asks for them.
        path = {"details": "kind", "subjects": "bed"}.get(path, path)
        name = path.removeprefix("details.").removeprefix("subjects.")
        qualified = f"{kind}.{name}"
        return qualified if self._columns.has(qualified) else name
