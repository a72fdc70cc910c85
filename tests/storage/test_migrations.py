"""From nothing to the tables of today, with no difference between models and migrations."""

import json
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from click.testing import CliRunner
from sqlalchemy import create_engine, inspect, text

from shedbook import places
from shedbook.cli.main import main
from shedbook.log.moment import parse_day
from shedbook.records.engine import prepare_engine
from shedbook.records.models import Base
from shedbook.records.schema import NewerSchema, StoreBehind, alembic_config
from shedbook.serving.app import LOG_FILE, open_data, upgrade_data
from tests.storage.postgresql import new_database

AN_ENTRY = (
    'INSERT INTO entries (garden_id, id, seq, notebook_id, number, kind, garden_wide, "order", '
    "received_at_ms, content_hash, person_id, device_id, body) "
    "VALUES ('a', :id, :seq, 'n', 1, :kind, false, 'c', 1, 'h', 'p', 'd', :body)"
)
REVISIONS = sorted(file.name[:4] for file in (places.MIGRATIONS / "versions").glob("[0-9]*.py"))
RELEASED = REVISIONS[:-1]
A_GARDEN = (
    "INSERT INTO gardens (id, name, zone, head, epoch, created_at_ms) "
    "VALUES ('a', 'Home', 'UTC', 0, 'b', 1)"
)


def test_migrations_make_exactly_the_tables_of_the_models(empty_url: str) -> None:
    engine = create_engine(open_data(database_url=empty_url))
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []
        scripts = ScriptDirectory.from_config(alembic_config(connection))
        assert context.get_current_revision() == scripts.get_current_head()
    engine.dispose()


def test_opening_again_changes_nothing(empty_url: str) -> None:
    assert open_data(database_url=empty_url) == open_data(database_url=empty_url)


def test_migrations_are_one_line_and_named_by_number() -> None:
    engine = create_engine("sqlite://")
    with engine.connect() as connection:
        scripts = list(
            ScriptDirectory.from_config(alembic_config(connection)).walk_revisions("base", "heads")
        )
    assert [one.revision for one in reversed(scripts)] == [
        f"{place:04d}" for place in range(1, len(scripts) + 1)
    ]
    for one in scripts:
        assert Path(one.path).name.startswith(f"{one.revision}_")
    engine.dispose()


@pytest.mark.parametrize("released", RELEASED)
def test_a_store_of_each_earlier_schema_is_refused_until_it_is_upgraded_and_keeps_its_rows(
    empty_url: str, released: str
) -> None:
    url = _made_at(empty_url, released)
    with pytest.raises(StoreBehind, match=rf"at {released}, this one needs .*shedbook upgrade"):
        open_data(database_url=empty_url)
    assert upgrade_data(database_url=empty_url) == (released, REVISIONS[-1])
    engine = create_engine(open_data(database_url=empty_url))
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []
        assert connection.scalar(text("SELECT name FROM gardens")) == "Home"
    engine.dispose()
    assert upgrade_data(database_url=url) == (REVISIONS[-1], REVISIONS[-1])


@pytest.mark.postgresql
def test_postgresql_is_upgraded_once_its_keeper_says_that_a_copy_was_taken(
    postgresql_server: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DATABASE_URL", _made_at(new_database(postgresql_server), RELEASED[0]))
    refused = CliRunner().invoke(main, ["upgrade"])
    assert refused.exit_code == 1
    assert "pg_dump" in refused.output
    assert "shedbook upgrade --backup-taken" in refused.output
    done = CliRunner().invoke(main, ["upgrade", "--backup-taken"])
    assert done.exit_code == 0, done.output
    assert f"from {RELEASED[0]} to {REVISIONS[-1]}" in done.output


def _made_at(empty_url: str, revision: str) -> str:
    """A store as the program of that schema left it, with a garden in it."""
    url = empty_url.replace("postgresql://", "postgresql+psycopg://")
    engine = create_engine(url)
    prepare_engine(engine)
    with engine.begin() as connection:
        command.upgrade(alembic_config(connection), revision)
        connection.execute(text(A_GARDEN))
    engine.dispose()
    return url


def test_an_upgrade_tells_the_day_and_the_topic_of_what_is_in_the_log(empty_url: str) -> None:
    engine = create_engine(_made_at(empty_url, "0004"))
    entries = {
        "scout": {"organism": "root_knot", "grade": "few"},
        "feed": {"origin": "raw_manure"},
        "water": {"organism": "none", "note": "a NUL: \0"},
    }
    with engine.begin() as connection:
        for seq, (kind, details) in enumerate(entries.items(), 1):
            happened_at = f"2024-02-{seq:02d}T23:30:00-05:00"
            body = json.dumps({"happened_at": happened_at, "details": details})
            connection.execute(text(AN_ENTRY), {"id": kind, "kind": kind, "seq": seq, "body": body})
    engine.dispose()
    upgrade_data(database_url=empty_url)
    with engine.connect() as connection:
        rows = connection.execute(text("SELECT day, topic FROM entries ORDER BY seq")).all()
    engine.dispose()
    first = parse_day("2024-02-01")
    assert [(*row,) for row in rows] == [
        (first, "root_knot"),
        (first + 1, "raw_manure"),
        (first + 2, None),
    ]


def test_a_store_of_a_newer_program_is_refused_and_left_alone(empty_url: str) -> None:
    url = open_data(database_url=empty_url)
    engine = create_engine(url)
    with engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(NewerSchema, match=r"newer Shedbook .*9999.*Update Shedbook"):
        open_data(database_url=empty_url)
    with engine.connect() as connection:
        assert connection.scalar(text("SELECT version_num FROM alembic_version")) == "9999"
    engine.dispose()


def test_a_data_folder_is_made_for_its_owner_alone(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "100% müde"
    url = open_data(folder)
    assert (folder / LOG_FILE).exists()
    assert folder.stat().st_mode & 0o077 == 0
    engine = create_engine(url)
    assert "entries" in inspect(engine).get_table_names()
    engine.dispose()
