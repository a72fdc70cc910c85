"""Whether a store takes entries, and pages of large ones, on both engines."""

import psycopg
import pytest
from flask import Flask

from shedbook.records.entries import PageRows, entries_after
from shedbook.records.models import db
from tests.api.builders import Clock, Phone


def test_a_store_that_takes_writing_is_ready(app: Flask) -> None:
    assert app.test_client().get("/readyz").get_json() == {"status": "ok"}


@pytest.mark.parametrize(
    "empty_url", [pytest.param("postgresql", marks=pytest.mark.postgresql)], indirect=True
)
def test_a_database_that_is_only_read_is_not_ready(
    app: Flask, empty_url: str, clock: Clock
) -> None:
    with psycopg.connect(empty_url, autocommit=True) as connection:
        name = empty_url.rpartition("/")[2]
        connection.execute(f"ALTER DATABASE {name} SET default_transaction_read_only = on")
    with app.app_context():
        # Only a new connection is told of the setting.
        db.engine.dispose()
    answer = app.test_client().get("/readyz")
    assert answer.status_code == 503
    assert "takes no writing" in answer.get_json()["error"]["fields"]["store"][0]


def test_a_page_is_cut_at_its_bytes_and_the_session_goes_on(
    app: Flask, lead: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    for _ in range(2):
        lead.sync([lead.entry(details={"text": "ä" * 400}) for _ in range(250)])
    with app.app_context():
        everything = entries_after(db.session(), lead.garden, 0, 2000)
        page = PageRows(db.session(), lead.garden, 0, 2000)
        whole = list(page)
        assert (len(everything), len(whole), page.is_full) == (500, 500, False)
        most = sum(len(row.body.encode()) for row in whole[:210])
        monkeypatch.setattr("shedbook.records.entries.PAGE_BYTES", most)
        cut = PageRows(db.session(), lead.garden, 0, 2000)
        rows = list(cut)
        assert (len(rows), cut.count, cut.is_full) == (210, 210, True)
        assert cut.last_id == rows[-1].id
        rest = PageRows(db.session(), lead.garden, 400, 2000)
        assert ([row.seq for row in rest], rest.is_full) == ([*range(401, 501)], False)
