"""Takes an export back into an empty garden: the same entries, numbers, order and times.

Every entry goes the way that it went when a phone brought it, as of the moment at which it arrived;
if the log then gives it another number or order than the export says, nothing is kept.
"""

import json
import secrets
import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session

from shedbook.keeping.import_photos import (
    FoundImages,
    PhotosUnfit,
    images_named,
    take_in_images,
)
from shedbook.keeping.progress import Progress, say_nothing
from shedbook.log.content import content_hash
from shedbook.log.identity import is_id
from shedbook.records.engine import now_ms, writing
from shedbook.records.gardens import lock_garden
from shedbook.records.models import Device, Garden, Invitation, Notebook, Person, SetAside
from shedbook.records.notebooks import find_notebook, record_arrivals
from shedbook.records.people import Paired
from shedbook.sync.accept import accept_batch
from shedbook.sync.envelope import read_entry

BATCH = 500
WRITER = "Writer"
DEVICE = "Device before the import"


class ImportRefused(Exception):
    """Nothing was imported; the lines say why, most pressing first."""

    def __init__(self, *reasons: str) -> None:
        super().__init__("\n".join(reasons))


@dataclass(frozen=True)
class Exported:
    """An export that was read: the garden it is of, its entries, and what was set aside."""

    garden_id: str
    entries: list[dict[str, Any]]
    set_aside: list[dict[str, Any]]


def read_export(file: Path) -> Exported:
    """Read a file of JSON Lines. Raises ImportRefused with a reason for every wrong line."""
    entries: list[dict[str, Any]] = []
    aside: list[dict[str, Any]] = []
    reasons = []
    for number, line in enumerate(file.read_bytes().splitlines(), 1):
        try:
            read = json.loads(line)
            told = _fault(read)
        except ValueError as error:
            told = f"can't be read: {error}"
        if told:
            reasons.append(f"Line {number} {told}.")
        else:
            (aside if "set_aside" in read else entries).append(read)
    raw = [*entries, *(line["set_aside"] for line in aside)]
    if not reasons:
        reasons = list(_faults_together(entries, raw))
    if reasons:
        raise ImportRefused(*reasons)
    return Exported(raw[0]["garden"], entries, aside)


def import_log(
    exported: Exported,
    name: str,
    zone: str,
    *,
    instead_of: str | None = None,
    images: FoundImages | None = None,
    show: Progress = say_nothing,
) -> Garden:
    """Make the log anew, in one transaction. Raises ImportRefused, and then nothing has changed.

    `name` and `zone` hold unless the log has others. `instead_of` is an empty garden that no device
    is paired with, whose place the imported one takes. Needs an app context.
    """
    total = len(exported.entries) + (len(images.files) if images else 0)
    with writing() as session:
        if instead_of is not None:
            _remove_empty(session, instead_of)
        garden = _empty_garden(session, exported.garden_id, name, zone)
        _make_people(session, exported)
        for line in exported.set_aside:
            _put_aside(session, garden, line)
        done = 0
        for batch in _batches(exported.entries):
            _take_in(session, garden, batch)
            done += len(batch)
            show(done, total)
        if images is not None:
            _take_in_images(session, garden, images, lambda more, _of: show(done + more, total))
        garden.epoch = str(uuid.uuid4())
    return garden


def images_of_export(exported: Exported) -> list[str]:
    """The images that its photos name, those of what was set aside too."""
    return images_named([*exported.entries, *(line["set_aside"] for line in exported.set_aside)])


def has_device(session: Session, garden_id: str) -> bool:
    """Whether a phone or browser knows the garden by its id."""
    count = select(func.count()).select_from(Device).where(Device.garden_id == garden_id)
    return bool(session.scalar(count))


def _faults_together(entries: list[dict[str, Any]], raw: list[dict[str, Any]]) -> Iterator[str]:
    """What no line shows alone: an entry that is missing or told twice, or of another garden."""
    if not raw:
        yield "The file holds no entry."
    if len({one["garden"] for one in raw}) > 1:
        yield "The lines are of more than one garden. Export one at a time."
    for seq, entry in enumerate(entries, 1):
        if entry.get("seq") != seq:
            yield f"Entry {seq} should come next, but {entry.get('seq')} does: not a whole export."
            break
    ids, places = set(), set()
    for one in raw:
        place = (one["notebook"], one.get("number"))
        if one["id"] in ids or place in places:
            yield f"{one['id']} or its number in its notebook comes twice."
        ids.add(one["id"])
        places.add(place)


def _fault(read: Any) -> str | None:
    """What is wrong with a line by itself."""
    if not isinstance(read, dict):
        return "is no entry"
    entry = read.get("set_aside", read)
    names = ("id", "garden", "notebook")
    if not isinstance(entry, dict) or not all(_is_id(entry.get(name)) for name in names):
        return "is no entry: it has no id, garden or notebook"
    if not _is_whole(read.get("received_at")):
        return "does not say when it was received; it is no whole export"
    if not _is_whole(entry.get("number")) or not _names_both(entry):
        return "has no number, or names no person or no device"
    if entry is not read and not isinstance(read.get("problems"), dict):
        return "does not say why it was set aside"
    return None


def _remove_empty(session: Session, garden_id: str) -> None:
    garden = lock_garden(session, garden_id)
    if garden.head or has_device(session, garden_id):
        raise ImportRefused(f"{garden.name} is in use. An import needs an empty garden.")
    session.execute(delete(Invitation).where(Invitation.garden_id == garden_id))
    session.execute(delete(Person).where(Person.garden_id == garden_id))
    session.execute(delete(Garden).where(Garden.id == garden_id))
    session.expunge(garden)


def _empty_garden(session: Session, garden_id: str, name: str, zone: str) -> Garden:
    if session.get(Garden, garden_id) is None:
        made = Garden(
            id=garden_id,
            name=name,
            zone=zone,
            head=0,
            epoch=str(uuid.uuid4()),
            created_at_ms=now_ms(),
        )
        session.add(made)
        session.flush()
    garden = lock_garden(session, garden_id)
    arrived = select(func.count()).select_from(Notebook).where(Notebook.garden_id == garden_id)
    if garden.head or session.scalar(arrived):
        raise ImportRefused(
            f"The garden {garden.name} has entries already. An import needs an empty garden."
        )
    return garden


def _make_people(session: Session, exported: Exported) -> None:
    """An export has no names: whoever wrote gets a number, and each device is of the past."""
    named = [*exported.entries, *(line["set_aside"] for line in exported.set_aside)]
    pairs = sorted({(one["device"], one["person"]) for one in named})
    for place, person_id in enumerate(sorted({person for _, person in pairs}), 1):
        if not _is_made(session, Person, person_id, exported.garden_id):
            session.add(
                Person(
                    id=person_id,
                    garden_id=exported.garden_id,
                    name=f"{WRITER} {place}",
                    role="helper",
                )
            )
    session.flush()
    for device_id, person_id in dict(pairs).items():
        if not _is_made(session, Device, device_id, exported.garden_id):
            session.add(_past_device(exported.garden_id, device_id, person_id))
    session.flush()


def _past_device(garden_id: str, device_id: str, person_id: str) -> Device:
    """Revoked, so that a phone which is paired again may go on with its notebook."""
    at_ms = now_ms()
    return Device(
        id=device_id,
        garden_id=garden_id,
        person_id=person_id,
        name=DEVICE,
        secret_hash=secrets.token_hex(32),
        created_at_ms=at_ms,
        waiting=0,
        revoked_at_ms=at_ms,
    )


def _is_made(
    session: Session, table: type[Person] | type[Device], row_id: str, garden_id: str
) -> bool:
    found = session.scalar(select(table.garden_id).where(table.id == row_id))
    if found is not None and found != garden_id:
        raise ImportRefused(f"{row_id} belongs to another garden of this shed.")
    return found is not None


def _put_aside(session: Session, garden: Garden, line: dict[str, Any]) -> None:
    raw = line["set_aside"]
    session.add(
        SetAside(
            garden_id=garden.id,
            entry_id=raw["id"],
            notebook_id=raw["notebook"],
            number=raw["number"],
            person_id=raw["person"],
            content_hash=content_hash(raw),
            raw=json.dumps(raw),
            problems=json.dumps(line["problems"]),
            received_at_ms=line["received_at"],
            mended_by=line.get("mended_by"),
        )
    )
    notebook = find_notebook(session, garden.id, raw["notebook"])
    if notebook is None:
        notebook = Notebook(
            garden_id=garden.id,
            id=raw["notebook"],
            device_id=raw["device"],
            unbroken=0,
            highest=0,
            arrived=0,
        )
        session.add(notebook)
    record_arrivals(session, notebook, {raw["number"]: raw["id"]})


def _batches(entries: Sequence[dict[str, Any]]) -> Iterator[list[dict[str, Any]]]:
    """Runs of entries that came at one moment by one device, as they were accepted together."""

    def arrival(entry: dict[str, Any]) -> tuple[Any, ...]:
        return tuple(entry[name] for name in ("notebook", "device", "person", "received_at"))

    for _, run in groupby(entries, arrival):
        together = list(run)
        for start in range(0, len(together), BATCH):
            yield together[start : start + BATCH]


def _take_in(session: Session, garden: Garden, batch: list[dict[str, Any]]) -> None:
    first = batch[0]
    writer = Paired(
        garden_id=garden.id,
        garden_name=garden.name,
        zone=garden.zone,
        device_id=first["device"],
        device_name=DEVICE,
        person_id=first["person"],
        person_name=WRITER,
        # What each was allowed was decided when the entry was first accepted.
        role="lead",
    )
    received = first["received_at"]
    read = [read_entry(entry, garden.id, first["notebook"], received) for entry in batch]
    answers = accept_batch(session, garden, writer, first["notebook"], read, received)
    for entry, answer in zip(batch, answers, strict=True):
        given = (answer.result, answer.seq, answer.order)
        if given != ("accepted", entry["seq"], entry["order"]):
            told = "; ".join(
                f"{path}: {' '.join(texts)}" for path, texts in answer.problems.items()
            )
            raise ImportRefused(
                f"Entry {entry['seq']} ({entry['id']}) can't be taken in as it was: "
                f"{told or answer.hint or 'its order does not follow from its clock.'}"
            )


def _take_in_images(session: Session, garden: Garden, images: FoundImages, show: Progress) -> None:
    try:
        take_in_images(session, garden.id, images, now_ms(), show)
    except PhotosUnfit as error:
        raise ImportRefused(str(error)) from error


def _names_both(raw: dict[str, Any]) -> bool:
    return _is_id(raw.get("person")) and _is_id(raw.get("device"))


def _is_id(value: Any) -> bool:
    return isinstance(value, str) and is_id(value)


def _is_whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value >= 0
