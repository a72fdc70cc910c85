"""A store that another program holds, or whose file is damaged: an answer, never a fallen shed."""

import json
import sqlite3
import time
import urllib.error
from collections.abc import Iterator
from contextlib import closing, contextmanager
from typing import Any

import psycopg
import pytest

from shedbook.keeping.verify import verify_file
from shedbook.places import LOG_FILE
from tests.keeping.test_verify import spoil_page_of_entries
from tests.sync.forked import ForkedShed
from tests.sync.process import SocketPhone
from tests.sync.soundness import Acknowledged, assert_sound, differences


@contextmanager
def _held(shed: ForkedShed) -> Iterator[None]:
    """Another program has the store for itself."""
    if shed.database_url:
        with psycopg.connect(shed.database_url) as other:
            other.execute("LOCK TABLE gardens IN EXCLUSIVE MODE")
            yield
        return
    with closing(sqlite3.connect(shed.data / LOG_FILE, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        yield
        other.execute("ROLLBACK")


def _refused(phone: SocketPhone, entries: list[dict[str, Any]]) -> tuple[int, str, Any]:
    """Status, code and Retry-After of an exchange that fails."""
    with pytest.raises(urllib.error.HTTPError) as refused:
        phone.sync(entries)
    with refused.value as answer:
        error = json.loads(answer.read())["error"]
        return answer.code, error["code"], answer.headers["Retry-After"]


def test_a_locked_store_is_answered_busy_and_takes_the_same_afterwards(
    cold_shed: ForkedShed,
) -> None:
    shed = cold_shed
    shed.busy_seconds = 0.3
    shed.start()
    phone, other = shed.pair("lead", "Ana"), shed.pair("helper", "Bo")
    first = [phone.pen.entry() for _ in range(3)]
    acknowledged = Acknowledged()
    acknowledged.take(phone.sync(first)["answers"])
    batch = [phone.pen.entry() for _ in range(5)]
    with _held(shed):
        began = time.monotonic()
        for _ in range(3):
            assert _refused(phone, batch) == (503, "busy", "2")
        assert time.monotonic() - began >= 3 * shed.busy_seconds
        # Who only reads does not wait for the other program.
        assert len(other.sync([])["entries"]) == 3
    assert acknowledged.take(phone.sync(batch)["answers"]) == {"accepted"}
    assert_sound(shed, [phone, other], acknowledged, {phone.pen.notebook: [*first, *batch]})


@pytest.mark.parametrize("database_url", ["sqlite"], indirect=True)
def test_a_damaged_page_is_answered_with_an_error_and_found_by_verify(shed: ForkedShed) -> None:
    """PostgreSQL keeps its own pages and checksums; SQLite's file lies on the grower's card."""
    phone = shed.pair("lead", "Ana")
    phone.sync([phone.pen.entry() for _ in range(300)])
    shed.close()
    log = shed.data / LOG_FILE
    spoil_page_of_entries(log)
    shed.start()
    assert _refused(phone, [])[:2] == (500, "failed")
    # The newest entries lie on the page, so the next one would, too: it is not acknowledged.
    assert _refused(phone, [phone.pen.entry()])[:2] == (500, "failed")
    # What does not meet the page is served still.
    assert phone.sync([], cursor=300)["head"] == 300
    assert verify_file(log)[0].startswith("The file of the log ")
    assert differences(shed)


@pytest.mark.parametrize(
    "database_url", [pytest.param("postgresql", marks=pytest.mark.postgresql)], indirect=True
)
def test_a_database_that_ends_every_connection_costs_no_push(shed: ForkedShed) -> None:
    """PostgreSQL was started anew under a running shed."""
    assert shed.database_url is not None
    phone = shed.pair("lead", "Ana")
    batches = [[phone.pen.entry() for _ in range(4)] for _ in range(5)]
    acknowledged = Acknowledged()
    for batch in batches:
        with psycopg.connect(shed.database_url, autocommit=True) as other:
            other.execute(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
                "WHERE datname = current_database() AND pid <> pg_backend_pid()"
            )
        acknowledged.take(phone.sync(batch)["answers"])
    written = {phone.pen.notebook: [one for batch in batches for one in batch]}
    assert_sound(shed, [phone], acknowledged, written)
