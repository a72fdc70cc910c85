"""A shed that is sent one spoilt request after another, and what must hold after each of them."""

import json
import shutil
from collections import Counter
from pathlib import Path
from random import Random
from typing import Any

from flask import Flask
from sqlalchemy import select
from werkzeug.test import TestResponse

from shedbook.keeping.verify import verify_garden
from shedbook.places import LOG_FILE
from shedbook.records.models import Entry, SetAside, db
from shedbook.serving.app import Config, create_app
from tests.api.builders import Clock, a_garden, a_phone, error_of
from tests.columns import entries_in
from tests.fuzz.attempt import Attempt, next_attempt
from tests.fuzz.entries import Writer

ROLES = ("lead", "lead", "helper", "helper", "reader")
# What must answer whatever the log has come to hold.
READINGS = (
    *("/findings", "/findings?today=2027-02-28", "/findings?today=1970-01-01", "/devices"),
    *("/findings?today=2199-12-31", "/set-aside", "/entries?limit=50", "/review", "/scouting"),
)


class FuzzedShed:
    """A garden with phones of every role, and a garden beside it that must stay as it is."""

    def __init__(self, empty_store: Path, folder: Path, random: Random) -> None:
        self.random = random
        self.clock = Clock()
        store = Path(shutil.copy(empty_store, folder / LOG_FILE))
        self.app: Flask = create_app(Config(f"sqlite:///{store}", clock_ms=self.clock))
        self.garden = a_garden(self.app)
        self.away = a_phone(self.app, a_garden(self.app, "Away"))
        self.away.sync([self.away.entry()])
        self.writers = [
            Writer(a_phone(self.app, self.garden, role, f"{role} {place}"), random)
            for place, role in enumerate(ROLES)
        ]
        self.lead = self.writers[0].phone
        self.head = 0
        self.acknowledged: dict[str, int] = {}
        self.aside: set[str] = set()
        self.tally: Counter[str] = Counter()

    def close(self) -> None:
        with self.app.app_context():
            db.session.remove()
            db.engine.dispose()

    def ids(self) -> list[str]:
        """Ids that mean something here, or in the garden beside."""
        phones = [self.away, *(writer.phone for writer in self.writers)]
        named = [name for one in phones for name in (one.garden, one.device, one.person)]
        recent = list(self.acknowledged)[-5:]
        return [*named, self.away.notebook, self.lead.notebook, *recent, *list(self.aside)[:5]]

    def next_attempt(self) -> Attempt:
        return next_attempt(self.random, self.writers, self.ids())

    def send(self, attempt: Attempt) -> None:
        """Send it, and hold the answer against all that was answered before."""
        self.clock.ms += 500
        phone = attempt.writer.phone
        response = phone.client.post(
            f"/api/gardens/{self.garden}/sync", data=attempt.body, headers=attempt.headers
        )
        self.tally[str(response.status_code)] += 1
        if response.status_code == 200:
            self._learn(attempt, response)
        else:
            assert response.status_code in (400, 413, 415, 422), _told(response)
            assert response.get_json()["error"]["code"]
            error_of(response)

    def _learn(self, attempt: Attempt, response: TestResponse) -> None:
        answer = json.loads(response.get_data(), parse_constant=_no_constant)
        sent, answers = attempt.entries, answer["answers"]
        assert len(answers) == len(sent), "each entry is answered once"
        for entry, told in zip(sent, answers, strict=True):
            self.tally[told["result"]] += 1
            self._learn_one(entry, told)
        assert answer["head"] == self.head
        pulled = [one["seq"] for one in _page(answer)]
        assert pulled == list(range(answer["cursor"] - len(pulled) + 1, answer["cursor"] + 1))

    def _learn_one(self, entry: Any, told: dict[str, Any]) -> None:
        match told["result"]:
            case "accepted":
                self.head += 1
                assert told["seq"] == self.head, "a number was left out or given twice"
                assert told["id"] not in self.acknowledged
                assert entry["garden"] == self.garden
                self.acknowledged[told["id"]] = told["seq"]
            case "known":
                assert self.acknowledged[told["id"]] == told["seq"]
            case "set_aside":
                assert told["problems"]
                self.aside.add(told["id"])
            case "refused":
                assert told["problems"]
            case other:
                assert other == "forked"

    def look_through(self) -> None:
        """The log is what was acknowledged, each once and without a gap, and can be read."""
        with self.app.app_context():
            rows = db.session.execute(
                select(Entry.id, Entry.seq).where(Entry.garden_id == self.garden)
            ).all()
            assert sorted(row.seq for row in rows) == list(range(1, self.head + 1))
            assert {row.id: row.seq for row in rows} == self.acknowledged
            aside = db.session.scalars(
                select(SetAside.entry_id).where(SetAside.garden_id == self.garden)
            ).all()
            assert sorted(aside) == sorted(self.aside)
            rulebook = self.app.extensions["shedbook"].rulebook
            found = verify_garden(db.session(), self.garden, rulebook)
            assert not found.differences, found.differences
        rows, columns = (self.lead.sync([], form=form) for form in ("rows", "columns"))
        assert _page(columns) == _page(rows)
        for path in READINGS:
            response = self.lead.get(path)
            assert response.status_code == 200, f"{path}: {_told(response)}"
            json.loads(response.get_data(), parse_constant=_no_constant)
        assert self.away.sync()["head"] == 1


def _page(answer: dict[str, Any]) -> list[dict[str, Any]]:
    """The page of the log, in whichever form it came."""
    return answer["entries"] if "entries" in answer else entries_in(answer["columns"])


def _no_constant(name: str) -> float:
    raise AssertionError(f"{name} is not JSON")


def _told(response: TestResponse) -> str:
    return f"{response.status_code} {response.get_data(as_text=True)[:500]}"
