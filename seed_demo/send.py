"""Sends the demo season to a shed by the way that every phone takes: pairing, then sync."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from flask import Flask
from flask.testing import FlaskClient

from seed_demo import draft_season
from seed_demo.draft import HELPER, LEAD, QUIET
from seed_demo.notebook import Entry, Identity, Notebook, write_notebooks
from seed_demo.place import DEVICE_NAMES, GARDEN_NAME, PEOPLE, ROLES
from shedbook.records.gardens import create_garden
from shedbook.records.people import LEAD_LINK_LIFETIME_S, invite
from shedbook.serving.app import Config, create_app

BATCH_SIZE = 250
# The tablet in the potting shed was last in reach six days ago, and said it held two more entries.
QUIET_MS = 6 * 24 * 60 * 60 * 1000
QUIET_WAITING = 2

Progress = Callable[[int, int], None]


class DemoRefused(Exception):
    """The shed did not take the season as it stands; nobody should see a demo with holes."""


class SetClock:
    """A shed's clock that stands where it is put, so that a phone can have been away."""

    def __init__(self, ms: int) -> None:
        self.ms = ms

    def __call__(self) -> int:
        return self.ms


@dataclass(frozen=True)
class Phone:
    """A paired device: its cookie jar and who it is."""

    client: FlaskClient
    identity: Identity


@dataclass(frozen=True)
class Demo:
    """The garden that was made, and what each phone wrote into it."""

    garden_id: str
    notebooks: dict[str, Notebook]


def build_demo(
    database_url: str, today: date, now_ms: int, zone: str, progress: Progress | None = None
) -> Demo:
    """Make a garden in an opened store and let three phones bring the season in.

    `now_ms` is a moment of `today`. All phones were in reach six days before; two are now.
    """
    clock = SetClock(now_ms - QUIET_MS)
    app = create_app(Config(database_url, clock_ms=clock))
    with app.app_context():
        garden = create_garden(GARDEN_NAME, zone, at_ms=clock.ms).id
        invited = invite(garden, "lead", PEOPLE[LEAD], LEAD_LINK_LIFETIME_S, at_ms=clock.ms)
    phones = _pair_phones(app, invited.code)
    identities = {name: phone.identity for name, phone in phones.items()}
    notebooks = write_notebooks(draft_season(today, zone).drafts, identities, zone)
    total = sum(len(notebook.entries) for notebook in notebooks.values())
    away_since = datetime.fromtimestamp(clock.ms / 1000, ZoneInfo(zone))
    sent = 0
    for entries in _visits(notebooks, away_since):
        for name, batch in _batches(entries):
            _send(phones[name], notebooks[name].id, batch, QUIET_WAITING if name == QUIET else 0)
            sent += len(batch)
            if progress:
                progress(sent, total)
        clock.ms = now_ms
    return Demo(garden, notebooks)


def _visits(notebooks: dict[str, Notebook], away_since: datetime) -> list[dict[str, list[Entry]]]:
    """What each phone has to bring at the first visit, and at the second. The lead comes first:
    her phone made the beds and plantings that the others write about."""
    first: dict[str, list[Entry]] = {}
    second: dict[str, list[Entry]] = {}
    for name in (LEAD, HELPER, QUIET):
        for entry in notebooks[name].entries:
            written = datetime.fromisoformat(entry["recorded_at"])
            visit = first if written <= away_since else second
            visit.setdefault(name, []).append(entry)
    return [first, second]


def _batches(visit: dict[str, list[Entry]]) -> list[tuple[str, list[Entry]]]:
    return [
        (name, entries[start : start + BATCH_SIZE])
        for name, entries in visit.items()
        for start in range(0, len(entries), BATCH_SIZE)
    ]


def _pair_phones(app: Flask, lead_code: str) -> dict[str, Phone]:
    phones = {LEAD: _pair(app, lead_code, LEAD)}
    garden = phones[LEAD].identity.garden
    for name in (HELPER, QUIET):
        wanted = {"name": PEOPLE[name], "role": ROLES[name]}
        made = _post(phones[LEAD].client, f"/api/gardens/{garden}/invitations", wanted)
        phones[name] = _pair(app, made["code"], name)
    return phones


def _pair(app: Flask, code: str, name: str) -> Phone:
    client = app.test_client()
    session = _post(client, "/api/session", {"code": code, "device_name": DEVICE_NAMES[name]})
    garden, device, person = (session[part]["id"] for part in ("garden", "device", "person"))
    return Phone(client, Identity(garden, device, person))


def _send(phone: Phone, notebook: str, batch: list[Entry], waiting: int) -> None:
    body = {"notebook": notebook, "entries": batch, "cursor": 0, "waiting": waiting, "page": 1}
    answer = _post(phone.client, f"/api/gardens/{phone.identity.garden}/sync", body)
    for entry, given in zip(batch, answer["answers"], strict=True):
        if given["result"] != "accepted" or given.get("remarks"):
            raise DemoRefused(f"{entry['kind']} {json.dumps(entry['details'])}: {given}")


def _post(client: FlaskClient, path: str, body: dict[str, Any]) -> dict[str, Any]:
    answer = client.post(path, json=body, headers={"X-Shedbook": "1"})
    if answer.status_code >= 300:
        raise DemoRefused(f"{path}: {answer.status} {answer.get_data(as_text=True)}")
    read: dict[str, Any] = answer.get_json()
    return read
