"""However the same entries are cut into batches, sent again or mixed, the log is the same."""

import itertools
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from hypothesis import given, settings
from hypothesis import strategies as st

from shedbook.log.ledger import Ledger
from shedbook.serving.app import LOG_FILE, Config, create_app, open_data
from tests.api.builders import Clock, Phone, a_garden, a_phone
from tests.storage.postgresql import ENGINES, new_database


class Origin:
    """A paired garden without an entry, of which every example takes a copy."""

    def __init__(self, url: str, copied: Callable[[], str]) -> None:
        self._copied = copied
        app = create_app(Config(url, clock_ms=Clock()))
        garden = a_garden(app)
        self.phones = [a_phone(app, garden, "lead"), a_phone(app, garden, "helper")]
        _close(app)
        self.entries = _season(self.phones)
        whole = [
            [(place, item) for item in range(len(one))] for place, one in enumerate(self.entries)
        ]
        self.expected = self.log_after([batch for batch in whole if batch])

    def log_after(self, batches: list[list[tuple[int, int]]]) -> dict[str, Any]:
        """What the shed holds after these batches; each is of one phone."""
        app = create_app(Config(self._copied(), clock_ms=Clock()))
        try:
            for batch in batches:
                phone = self._at(app, batch[0][0])
                phone.sync([self.entries[place][item] for place, item in batch])
            return _log_of(self._at(app, 0))
        finally:
            _close(app)

    def _at(self, app: Flask, place: int) -> Phone:
        phone = self.phones[place]
        cookie = phone.client.get_cookie("shedbook_device")
        assert cookie is not None
        client = app.test_client()
        client.set_cookie("shedbook_device", cookie.value)
        return Phone(client, phone.garden, phone.device, phone.person, phone.notebook)


def _close(app: Flask) -> None:
    with app.app_context():
        app.extensions["sqlalchemy"].engine.dispose()


def _season(phones: list[Phone]) -> list[list[dict[str, Any]]]:
    """Entries of two phones: good ones, one that is set aside, corrections, an unknown kind."""
    lead, helper = phones
    bed = lead.bed()
    planting = lead.planting(bed["id"])
    subjects = {"bed": bed["id"], "planting": planting["id"]}
    of_lead = [
        bed,
        planting,
        lead.entry("transplant", {}, subjects),
        lead.entry("water", {"volume_l": -1}, subjects),
        lead.entry("bed", {"name": "South"}, {"bed": bed["id"]}),
        lead.entry("measure_sap", {"brix": 7}),
    ]
    of_lead.append(lead.entry("void", {"entry": of_lead[2]["id"]}))
    note = helper.entry()
    restated = {"entry": note["id"], "kind": "note", "restated": {"text": "Frost."}}
    of_helper = [
        note,
        helper.entry("water", {"volume_l": 5}, subjects),
        helper.entry("correct", restated),
        helper.entry("pick", {"count": 4}, subjects),
    ]
    return [of_lead, of_helper]


def _log_of(phone: Phone) -> dict[str, Any]:
    """All that must not depend on batches: everything but sequence numbers."""
    answer = phone.sync()
    entries = answer["entries"]
    assert [one["seq"] for one in entries] == list(range(1, answer["head"] + 1))
    ledger = Ledger()
    ledger.add(entries)
    without_seq = [{k: v for k, v in one.items() if k != "seq"} for one in entries]
    return {
        "entries": sorted(without_seq, key=lambda one: str(one["id"])),
        "ledger": ledger.snapshot(),
        "set_aside": phone.get("/set-aside").get_json(),
        "notebook": answer["notebook"],
        "missing": {one["id"]: one["missing"] for one in answer["devices"]},
        "findings": phone.get("/findings").get_json()["findings"],
    }


@pytest.fixture(scope="module", params=ENGINES)
def origin(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Origin:
    if request.param == "sqlite":
        folder = tmp_path_factory.mktemp("origin")
        url = open_data(folder)
        copies = (f"sqlite:///{folder / str(place)}" for place in itertools.count())
        return Origin(url, lambda: _copy_of(folder / LOG_FILE, next(copies)))
    server = request.getfixturevalue("postgresql_server")
    empty = new_database(server)
    url = open_data(database_url=empty)
    return Origin(url, lambda: open_data(database_url=new_database(server, like=empty)))


def _copy_of(store: Path, url: str) -> str:
    shutil.copy(store, url.removeprefix("sqlite:///"))
    return url


@st.composite
def batchings(draw: st.DrawFn, lengths: tuple[int, ...] = (7, 4)) -> list[list[tuple[int, int]]]:
    """Both phones' entries in their order, cut anywhere, mixed, some batches sent again."""
    queues: list[list[list[tuple[int, int]]]] = []
    for place, length in enumerate(lengths):
        cuts = sorted(draw(st.sets(st.integers(1, length - 1))))
        edges = list(zip([0, *cuts], [*cuts, length], strict=True))
        queues.append([[(place, item) for item in range(*edge)] for edge in edges])
    turns = [place for place, queue in enumerate(queues) for _ in queue]
    batches: list[list[tuple[int, int]]] = []
    for place in draw(st.permutations(turns)):
        batches.append(queues[place].pop(0))
        if draw(st.booleans()):
            batches.append(draw(st.sampled_from(batches)))
    return batches


@settings(max_examples=15)
@given(batches=batchings())
def test_any_batching_of_the_same_entries_gives_the_same_log(
    origin: Origin, batches: list[list[tuple[int, int]]]
) -> None:
    assert origin.log_after(batches) == origin.expected
