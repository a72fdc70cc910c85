"""Brings the tables of a store to the form that this program knows."""

from alembic import command
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine

from shedbook import places

# Any fixed number: two programs that start at once on one PostgreSQL take turns by it.
_MIGRATION_LOCK = 7_240_951


class NewerSchema(Exception):
    """The store was written by a newer program than this one."""


def migrate(engine: Engine) -> None:
    """Run the migrations that the store has not had yet. Raises NewerSchema."""
    with engine.connect() as plain:
        connection = plain.execution_options(shedbook_begin="BEGIN IMMEDIATE")
        with connection.begin():
            if engine.dialect.name == "postgresql":
                connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_MIGRATION_LOCK})")
            config = alembic_config(connection)
            _refuse_newer(connection, ScriptDirectory.from_config(config))
            command.upgrade(config, "head")


def alembic_config(connection: Connection) -> Config:
    """Alembic's settings, without a file: the migrations run on the given connection."""
    config = Config()
    config.set_main_option("script_location", str(places.MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def _refuse_newer(connection: Connection, scripts: ScriptDirectory) -> None:
    known = {script.revision for script in scripts.walk_revisions()}
    found = set(MigrationContext.configure(connection).get_current_heads())
    if unknown := sorted(found - known):
        raise NewerSchema(
            f"This data was written by a newer Shedbook (its tables are at {', '.join(unknown)}). "
            "Update Shedbook, or choose another data folder."
        )
