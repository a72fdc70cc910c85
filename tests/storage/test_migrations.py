"""From nothing to the tables of today, with no difference between models and migrations."""

from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, inspect, text

from shedbook.records.models import Base
from shedbook.records.schema import NewerSchema, alembic_config
from shedbook.serving.app import LOG_FILE, open_data


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
