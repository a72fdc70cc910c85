"""What people call the things that findings name by id."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from shedbook.records.groups import labels_of_garden
from shedbook.records.models import Device, Person
from shedbook.words import Words, planting_name


def names_of_garden(session: Session, garden_id: str, words: Words) -> dict[str, str]:
    """Names of beds, plantings, people and devices, by id; a planting is its variety (and crop)."""
    names: dict[str, str] = {}
    for thing in (Person, Device):
        rows = session.execute(select(thing.id, thing.name).where(thing.garden_id == garden_id))
        names |= {row.id: row.name for row in rows}
    for label in labels_of_garden(session, garden_id):
        name = planting_name(words, label.crop, label.name)
        if name:
            names[label.subject_id] = name
    return names
