"""Verify, export and import on both engines: what leaves a store is what another takes in."""

from pathlib import Path

from flask import Flask
from sqlalchemy import delete, update

from shedbook.keeping.export import log_lines
from shedbook.keeping.export_photos import write_photos
from shedbook.keeping.import_log import images_of_export, import_log, read_export
from shedbook.keeping.import_photos import find_images
from shedbook.keeping.verify import Found, verify_garden
from shedbook.records.engine import writing
from shedbook.records.ledgers import read_ledger
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
    Photo,
    PhotoImage,
    SetAside,
    Standing,
    db,
)
from shedbook.rules.rulebook import load_rulebook
from tests.api.builders import HEADERS, Phone
from tests.keeping.sheds import a_season
from tests.pictures import a_jpeg, a_webp, details_of

# Each before what it points at.
TABLES = (
    Standing,
    Neighbour,
    Home,
    PhotoImage,
    Photo,
    SetAside,
    Entry,
    Arrival,
    Notebook,
    Invitation,
    Device,
    Person,
)


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


def test_images_leave_one_store_and_come_back_into_another(
    app: Flask, lead: Phone, tmp_path: Path
) -> None:
    for image in (a_jpeg(1), a_webp(2)):
        details = details_of(image)
        lead.sync([lead.entry("photo", details)])
        url = f"/api/gardens/{lead.garden}/photos/{details['sha256']}"
        headers = HEADERS | {"Content-Type": details["type"]}
        assert lead.client.put(url, data=image, headers=headers).status_code == 201
        assert lead.client.put(url, data=image, headers=headers).status_code == 200
        assert lead.client.get(url).get_data() == image
    log, photos = tmp_path / "log.jsonl", tmp_path / "photos"
    with app.app_context():
        session = db.session()
        text = "".join(f"{line}\n" for line in log_lines(session, lead.garden))
        log.write_text(text, encoding="utf-8")
        assert write_photos(session, lead.garden, read_ledger(lead.garden), {}, photos) == 2
        with writing() as session:
            for table in (*TABLES, Garden):
                session.execute(delete(table))
        exported = read_export(log)
        found = find_images(photos, images_of_export(exported), 10**9)
        import_log(exported, "Imported", "UTC", images=found)
    found_again = look(app, lead.garden)
    assert (found_again.images, found_again.differences, found_again.remarks) == (2, [], [])
    with app.app_context(), writing() as session:
        session.execute(update(PhotoImage).values(image=a_jpeg(3)))
    assert len(look(app, lead.garden).differences) == 2
