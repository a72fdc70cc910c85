"""Verify, export and import on both engines: what leaves a store is what another takes in."""

from pathlib import Path

from flask import Flask
from sqlalchemy import delete, update

from shedbook.keeping.export import log_lines
from shedbook.keeping.import_log import import_log, read_export
from shedbook.keeping.verify import Found, verify_garden
from shedbook.records.engine import writing
from shedbook.records.models import (
    Arrival,
    Device,
    Entry,
    Garden,
    Home,
    Invitation,
    Neighbour,
    Notebook,
    Person,
    SetAside,
    Standing,
    db,
)
from shedbook.rules.rulebook import load_rulebook
from tests.api.builders import Phone
from tests.keeping.sheds import a_season

# Each before what it points at.
TABLES = (Standing, Neighbour, Home, SetAside, Entry, Arrival, Notebook, Invitation, Device, Person)


def look(app: Flask, garden: str) -> Found:
    with app.app_context():
        return verify_garden(db.session(), garden, load_rulebook())


def test_a_sound_garden_verifies_and_a_changed_one_does_not(app: Flask, lead: Phone) -> None:
    a_season(lead)
    assert look(app, lead.garden).differences == []
    with app.app_context(), writing() as session:
        session.execute(update(Entry).where(Entry.seq == 6).values(content_hash="0" * 64))
    assert "its content and its hash differ" in look(app, lead.garden).differences[0]


def test_an_export_comes_back_as_the_same_log(app: Flask, lead: Phone, tmp_path: Path) -> None:
    a_season(lead)
    file = tmp_path / "log.jsonl"
    with app.app_context():
        lines = list(log_lines(db.session(), lead.garden))
        file.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
        with writing() as session:
            for table in (*TABLES, Garden):
                session.execute(delete(table))
        import_log(read_export(file), "Imported", "UTC")
        assert list(log_lines(db.session(), lead.garden)) == lines
    assert look(app, lead.garden).differences == []
